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
/** What takes a whole import back is recorded under this name: a row taken back so may be imported again. */
export const IMPORT_BACK_DEVICE = 'import taken back';

export interface FactWriter {
  readonly facts: readonly AnyFact[];
  /**
   * Writes a fact whose id follows from its kind and key, so that the same row imported again is the same fact.
   * 'same' = it is known with this body; 'differs' = it is known and says something else; nothing is written then.
   */
  write<K extends SheetKind>(
    kind: K,
    subject: Subject,
    day: Day,
    body: FactBodies[K],
  ): 'written' | 'same' | 'differs';
  /** The fact that `write` would find: of an earlier import, or of this one. */
  find(kind: SheetKind, key: string, day: Day): AnyFact | undefined;
  /** Writes what changed, as of now: today's first change of this key that is not known yet, its second, and so on. */
  writeChange<K extends SheetKind>(kind: K, subject: Subject, body: FactBodies[K]): void;
}

/** Sheets tell no hour, so facts of one day share a time: their clocks say what must come first for the rest to make sense. */
const PLACE_IN_DAY = {
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
} as const satisfies Readonly<Partial<Record<FactKind, number>>>;
/** Kinds of facts that a sheet can bring. */
export type SheetKind = keyof typeof PLACE_IN_DAY;

export interface Subject {
  readonly property: string;
  readonly station: string | null;
  /** What makes this fact one and the same: names, dates. */
  readonly key: string;
  readonly timeZone: string;
}

export interface WriterDeps {
  readonly firm: string;
  readonly by: string;
  readonly today: Day;
  /** RFC 3339 with offset; undefined = noon today */
  readonly now: string | undefined;
  readonly findKnown: (id: string) => AnyFact | undefined;
  /** True for a fact whose whole import was taken back: it does not count as known. */
  readonly isTakenBack: (id: string) => boolean;
}

export function createFactWriter({ firm, by, today, now, findKnown, isTakenBack }: WriterDeps): FactWriter {
  const facts: AnyFact[] = [];
  const writtenById = new Map<string, AnyFact>();
  const noons = new Map<string, string>();
  const findNoon = (day: Day, timeZone: string): string => {
    const zoneDay = `${timeZone} ${day}`;
    const at = noons.get(zoneDay) ?? noonOf(day, timeZone);
    noons.set(zoneDay, at);
    return at;
  };
  // The id holds the day and not the zone: a property that moves to another zone must not double its past.
  const idOfTurn = (kind: SheetKind, key: string, day: Day): string =>
    uuidV7(
      Math.max(0, getMoment(`${dayToText(day)}T12:00:00Z`).epochMs),
      digest(`${firm}\n${kind}\n${key}`).subarray(0, 10),
    );
  // What was taken back stays in the ledger under its id, so the row's next turn needs the next one.
  const idOf = (kind: SheetKind, key: string, day: Day): string => {
    let id = idOfTurn(kind, key, day);
    for (let turn = 1; isTakenBack(id); turn += 1) id = idOfTurn(kind, `${key}\nagain ${turn}`, day);
    return id;
  };
  const find = (id: string): AnyFact | undefined => findKnown(id) ?? writtenById.get(id);
  const add = (
    id: string,
    kind: SheetKind,
    subject: Subject,
    at: string,
    count: number,
    body: unknown,
  ): void => {
    const { property, station } = subject;
    const clock = clockToText({ ms: Math.max(0, getMoment(at).epochMs), count });
    const fact = { id, firm, property, station, by, device: IMPORT_DEVICE, seq: 0, at, clock, kind, body };
    writtenById.set(id, fact);
    facts.push(fact);
  };
  return {
    facts,
    find: (kind, key, day) => find(idOf(kind, key, day)),
    write: (kind, subject, day, body) => {
      const id = idOf(kind, subject.key, day);
      const known = find(id);
      if (known !== undefined) return saying(known.body) === saying(body) ? 'same' : 'differs';
      add(id, kind, subject, findNoon(day, subject.timeZone), PLACE_IN_DAY[kind], body);
      return 'written';
    },
    writeChange: (kind, subject, body) => {
      for (let count = 0; ; count += 1) {
        const id = idOf(kind, `${subject.key}\nchange ${dayToText(today)} ${count}`, today);
        if (find(id) !== undefined) continue;
        // After all that happened at the same time, in the order in which the changes were made.
        const place = Math.min(FIRST_CHANGE + count, 99_999);
        add(id, kind, subject, now ?? findNoon(today, subject.timeZone), place, body);
        return;
      }
    },
  };
}

const FIRST_CHANGE = 100;

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

/** What a body says, without where its row stood: a file may be renamed, a row moved. */
function saying(body: unknown): string {
  const { recordKeptElsewhere, ...said } = Object(body);
  return canonical(said);
}

/** JSON with sorted keys, for comparing bodies whatever wrote them. */
export function canonical(value: unknown): string {
  return JSON.stringify(value, (_, one: unknown) =>
    typeof one === 'object' && one !== null && !Array.isArray(one)
      ? Object.fromEntries(Object.entries(one).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)))
      : one,
  );
}
