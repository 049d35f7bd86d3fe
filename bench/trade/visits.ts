/** `node bench/trade/visits.ts`: the fewest visits of one property. Goals: milliseconds at 13 weeks, 50 ms at 2 years. */
import { DEMO_PROFILE, type VisitStation, visitDays, windowAfter } from '@sillwatch/trade';
import { addDays, getDay } from '@sillwatch/trade/units';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { median } from './firm.ts';

const PROPERTIES = 200;
const STATIONS = 20;
const from = getDay('2026-11-25');

/** Stations of a property that share a few histories; one history in four is baited. */
function makeStations(seed: number, histories: number): VisitStation[] {
  const source = xoroshiro128plus(seed);
  const int = (low: number, high: number): number => uniformInt(source, low, high);
  const known = Array.from({ length: histories }, (_, n) => {
    const isBaited = n % 4 === 3;
    const rule = (isBaited ? DEMO_PROFILE.baitedCheck : DEMO_PROFILE.check).value;
    const work = isBaited ? ('baited check' as const) : ('check' as const);
    const yearlyRule = DEMO_PROFILE.yearlyService.value;
    const lookedOn = addDays(from, -int(0, isBaited ? 25 : 80));
    const yearlyOn = addDays(lookedOn, -int(0, 330));
    return {
      look: { work, window: windowAfter(rule, lookedOn), next: { work, rule } },
      yearly: {
        work: 'yearly service' as const,
        window: windowAfter(yearlyRule, yearlyOn),
        next: { work: 'yearly service' as const, rule: yearlyRule },
      },
    };
  });
  return Array.from({ length: STATIONS }, (_, n) => {
    const history = known[n % histories];
    if (history === undefined) throw new Error('no history');
    return { station: `s${n}`, ...history };
  });
}

for (const [weeks, histories] of [
  [13, 3],
  [13, 4],
  [13, 20],
  [104, 3],
  [104, 4],
  [104, 20],
] as const) {
  const properties = Array.from({ length: PROPERTIES }, (_, seed) => makeStations(seed + 1, histories));
  const times: number[] = [];
  let visits = 0;
  let unproven = 0;
  for (const stations of properties) {
    const started = performance.now();
    const plan = visitDays(stations, { from, to: addDays(from, weeks * 7) });
    times.push(performance.now() - started);
    visits += plan.visits.length;
    if (!plan.proven) unproven += 1;
  }
  const slowest = Math.max(...times);
  console.log(
    `${weeks} weeks, ${histories} histories: median ${median(times).toFixed(1)} ms, slowest ${slowest.toFixed(0)} ms, ` +
      `${(visits / PROPERTIES).toFixed(1)} visits a property, ${unproven} not proven`,
  );
}
