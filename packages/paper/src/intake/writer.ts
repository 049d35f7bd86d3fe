import { createHash } from 'node:crypto';
import {
  type AnyFact,
  clockToText,
  type Day,
  dayToText,
  type FactBodies,
  type FactKind,
  getMoment,
  uuidV7,
} from '@sillwatch/trade';

/** Imported facts have no phone behind them: one device name, and no sequence. */
export const IMPORT_DEVICE = 'import';

export interface FactWriter {
  readonly facts: readonly AnyFact[];
  /**
   * Writes a fact whose id follows from its kind and key, so that the same row imported again is the same fact.
   * 'same' = it is known with this body; 'differs' = it is known and says something else; nothing is written then.
   */
  write<K extends FactKind>(
    kind: K,
    subject: Subject,
    day: Day,
    body: FactBodies[K],
  ): 'written' | 'same' | 'differs';
}

/** Sheets tell no hour, so facts of one day share a time: their clocks say what must come first for the rest to make sense. */
const PLACE_IN_DAY: Readonly<Record<FactKind, number>> = {
  'branch added': 0,
  'profile set': 0,
  'model set': 0,
  'property added': 0,
  'property changed': 1,
  'structure added': 1,
  'station installed': 2,
  'station replaced': 3,
  'station moved': 3,
  'station tagged': 3,
  'station seen': 4,
  'station removed': 5,
  'note added': 5,
  'visit closed': 6,
  'fact corrected': 7,
};

export interface Subject {
  readonly property: string;
  readonly station: string | null;
  /** What makes this fact one and the same: names, dates. */
  readonly key: string;
  readonly timeZone: string;
}

export function createFactWriter(
  firm: string,
  by: string,
  findKnown: (id: string) => AnyFact | undefined,
): FactWriter {
  const facts: AnyFact[] = [];
  const writtenById = new Map<string, AnyFact>();
  const noons = new Map<string, string>();
  return {
    facts,
    write: (kind, { property, station, key, timeZone }, day, body) => {
      const zoneDay = `${timeZone} ${day}`;
      const at = noons.get(zoneDay) ?? noonOf(day, timeZone);
      noons.set(zoneDay, at);
      const { epochMs } = getMoment(at);
      const id = uuidV7(Math.max(0, epochMs), digest(`${firm}\n${kind}\n${key}`).subarray(0, 10));
      const known = findKnown(id) ?? writtenById.get(id);
      if (known !== undefined) return canonical(known.body) === canonical(body) ? 'same' : 'differs';
      const fact: AnyFact = {
        id,
        firm,
        property,
        station,
        by,
        device: IMPORT_DEVICE,
        seq: 0,
        at,
        clock: clockToText({ ms: Math.max(0, epochMs), count: PLACE_IN_DAY[kind] }),
        kind,
        body,
      };
      writtenById.set(id, fact);
      facts.push(fact);
      return 'written';
    },
  };
}

/** Noon at the property: sheets tell the day and not the hour. */
function noonOf(day: Day, timeZone: string): string {
  return Temporal.PlainDateTime.from(`${dayToText(day)}T12:00:00`)
    .toZonedDateTime(timeZone)
    .toString({ timeZoneName: 'never' });
}

export function digest(text: string): Uint8Array {
  return new Uint8Array(createHash('sha256').update(text).digest());
}

export function shortDigest(text: string): string {
  return createHash('sha256').update(text).digest('hex').slice(0, 16);
}

/** JSON with sorted keys, for comparing bodies whatever wrote them. */
export function canonical(value: unknown): string {
  return JSON.stringify(value, (_, one: unknown) =>
    typeof one === 'object' && one !== null && !Array.isArray(one)
      ? Object.fromEntries(Object.entries(one).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)))
      : one,
  );
}
