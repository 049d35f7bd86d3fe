import type { Ledger } from '@sillwatch/ledger';
import {
  addDays,
  type Day,
  type DueItem,
  dueWork,
  type FirmState,
  type PropertyState,
  type Timeliness,
  timelinessOn,
  type WorkKind,
} from '@sillwatch/trade';
import { type Today, zoneOf } from './days.ts';
import { eachProperty, profileOf } from './firm.ts';

export interface DueQuestion {
  /** undefined = today, in each property's own zone */
  readonly asOf: Day | undefined;
  readonly branch: string | undefined;
  readonly property: string | undefined;
  readonly work: WorkKind | undefined;
  /** also what opens within so many days after asOf; 0 = only what is open by then */
  readonly withinDays: number;
}

/** One property's owed work. */
export interface DueRow {
  readonly property: PropertyState;
  readonly asOf: Day;
  readonly items: readonly DueItem[];
  readonly held: number;
  readonly earliest: Day;
  readonly target: Day;
  readonly latest: Day;
  readonly late: number;
}

export interface DueAnswer {
  /** the most urgent first: by latest day, then name */
  readonly rows: readonly DueRow[];
  /** Stations of all properties asked about, whether in a row or not. */
  readonly counts: Readonly<Record<Timeliness, number>>;
  readonly held: number;
  readonly properties: number;
  /** Properties whose work cannot be computed because they name no label profile of the firm. */
  readonly withoutProfile: readonly string[];
}

/** Computes what is due over the firm from its stations' states; nothing is stored. */
export async function findDue(
  ledger: Ledger,
  firm: string,
  firmState: FirmState,
  question: DueQuestion,
  today: Today,
): Promise<DueAnswer> {
  const rows: DueRow[] = [];
  const counts = { 'not yet': 0, open: 0, 'past target': 0, late: 0 };
  const withoutProfile: string[] = [];
  let held = 0;
  let properties = 0;
  for await (const property of askedProperties(ledger, firm, question)) {
    const profile = profileOf(property, firmState);
    if (profile === undefined) {
      withoutProfile.push(property.property);
      continue;
    }
    properties += 1;
    const asOf = question.asOf ?? today.inZone(zoneOf(property, firmState));
    const work = dueWork(property.stations, profile, asOf);
    const asked = work.items.filter((item) => question.work === undefined || item.work === question.work);
    for (const item of asked) counts[timelinessOn(item, asOf)] += 1;
    held += work.held.length;
    const until = addDays(asOf, question.withinDays);
    const row = toRow(
      property,
      asOf,
      asked.filter((item) => item.earliest <= until),
      work.held.length,
    );
    if (row !== undefined) rows.push(row);
  }
  rows.sort(
    (a, b) => a.latest - b.latest || compare(a.property.body?.name ?? '', b.property.body?.name ?? ''),
  );
  return { rows, counts, held, properties, withoutProfile };
}

async function* askedProperties(
  ledger: Ledger,
  firm: string,
  { property, branch }: DueQuestion,
): AsyncGenerator<PropertyState> {
  if (property === undefined) {
    yield* eachProperty(ledger, firm, branch);
    return;
  }
  const found = await ledger.findProperty(firm, property);
  if (found !== undefined && (branch === undefined || found.body?.branch === branch)) yield found;
}

function toRow(
  property: PropertyState,
  asOf: Day,
  items: readonly DueItem[],
  held: number,
): DueRow | undefined {
  const [first] = items;
  if (first === undefined) return undefined;
  const soonest = (pick: (item: DueItem) => Day): Day =>
    items.map(pick).toSorted((a, b) => a - b)[0] ?? pick(first);
  return {
    property,
    asOf,
    items,
    held,
    earliest: soonest((item) => item.earliest),
    target: soonest((item) => item.target),
    latest: soonest((item) => item.latest),
    late: items.filter((item) => timelinessOn(item, asOf) === 'late').length,
  };
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
