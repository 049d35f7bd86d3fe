import { type AnyFact, clockToText, dayToText, TWO_PART, uuidV7 } from '@sillwatch/trade';
import { addDays, type Day, getDay } from '@sillwatch/trade/units';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** Seeded facts of one property for the benches: `stations` stations, looked at in turn until there are `count` facts. */
export function makePropertyFacts(
  seed: number,
  property: string,
  stations: number,
  count: number,
): AnyFact[] {
  const source = xoroshiro128plus(seed);
  const int = (from: number, to: number): number => uniformInt(source, from, to);
  const facts: AnyFact[] = [];
  let day = getDay('2015-01-05');
  const add = (kind: string, station: string, on: Day, minute: number, body: unknown): void => {
    const ms = on * 86_400_000 + minute * 60_000 + 13 * 3_600_000;
    const time = `${String(8 + Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}:00`;
    const random = Uint8Array.from({ length: 10 }, () => int(0, 255));
    facts.push({
      id: uuidV7(ms, random),
      firm: 'bench',
      property,
      station,
      by: 'person-1',
      device: 'phone-1',
      seq: facts.length + 1,
      at: `${dayToText(on)}T${time}-05:00`,
      clock: clockToText({ ms, count: 0 }),
      kind,
      body,
      receipt: { seq: facts.length + 1, receivedAt: `${dayToText(addDays(on, 1))}T00:00:00Z` },
    });
  };
  for (let n = 1; n <= stations; n += 1) {
    add('station installed', `${property}-s${n}`, day, n, {
      structure: 'house',
      number: n,
      tag: null,
      model: TWO_PART.id,
      position: null,
      auxiliary: false,
      visit: null,
      inserts: [
        { slot: 'base', insert: 'monitor' },
        { slot: 'top', insert: 'monitor' },
      ],
      application: null,
    });
  }
  for (let visit = 1; facts.length < count; visit += 1) {
    day = addDays(day, int(80, 100));
    for (let n = 1; n <= stations && facts.length < count; n += 1) {
      const luck = int(0, 999);
      const termites =
        luck < 5 ? 'live on bait' : luck < 10 ? 'live on monitor' : luck < 20 ? 'signs only' : 'none';
      const isYearly = visit % 4 === 0;
      add('station seen', `${property}-s${n}`, day, n, {
        visit: `${property}-v${visit}`,
        task: isYearly ? 'yearly service' : 'check',
        finding: {
          reach: 'opened',
          termites,
          baitLeft: 'no bait',
          monitor: 'sound',
          housing: 'sound',
          occupants: 'none',
        },
        work: {
          yearlyServiceDone: isYearly && termites === 'none',
          baseMonitorLifted: isYearly && termites === 'none',
          cleanedOut: isYearly && termites === 'none',
          fitted: [],
          withdrawn: [],
          partsUsed: {},
          minutes: 2,
        },
        application: null,
        note: '',
        photos: [],
      });
    }
  }
  return facts;
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}
