import {
  type AnyFact,
  BAIT_LEFT,
  compareRecorded,
  type Finding,
  HOUSING_CONDITIONS,
  HOUSING_REPAIRS,
  type HousingRepair,
  MONITOR_CONDITIONS,
  OCCUPANTS,
  REACHES,
  TASKS,
  type Task,
  TERMITE_FINDINGS,
} from '@sillwatch/trade';

/**
 * Reading of fact bodies as they stand in the ledger. The body of a stored fact is unknown until looked at: it may come
 * from a newer build. What cannot be read is null, and the papers say "not recorded"; nothing is made up for it.
 */
export type Fields = Readonly<Record<string, unknown>>;

export function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
export function fieldsOf(value: unknown): Fields {
  return isFields(value) ? value : {};
}
/** The text trimmed, or null when it is missing, blank or no text. */
export function textOf(value: unknown): string | null {
  if (typeof value !== 'string') return null;
  const text = value.trim();
  return text === '' ? null : text;
}
export function numberOf(value: unknown): number | null {
  return typeof value === 'number' && Number.isFinite(value) ? value : null;
}
export function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}
function oneOf<T extends string>(list: readonly T[], value: unknown): T | null {
  return list.find((item) => item === value) ?? null;
}

/** An application as it was written down; null where a field was not. */
export interface ApplicationRead {
  readonly productName: string | null;
  readonly epaRegistrationNumber: string | null;
  readonly grams: number | null;
  readonly location: string | null;
  readonly areaTreated: string | null;
  readonly site: string | null;
  readonly applicatorName: string | null;
  readonly certificationNumber: string | null;
  readonly appliedUnderSupervisionBy: string | null;
}

/** The application in a fact's body, of whatever kind; null when it tells of none. */
export function findApplication(body: unknown): ApplicationRead | null {
  const value = fieldsOf(body)['application'];
  if (value === null || value === undefined) return null;
  const fields = fieldsOf(value);
  const grams = numberOf(fields['grams']);
  return {
    productName: textOf(fields['productName']),
    epaRegistrationNumber: textOf(fields['epaRegistrationNumber']),
    grams: grams !== null && grams > 0 ? grams : null,
    location: textOf(fields['location']),
    areaTreated: textOf(fields['areaTreated']),
    site: textOf(fields['site']),
    applicatorName: textOf(fields['applicatorName']),
    certificationNumber: textOf(fields['certificationNumber']),
    appliedUnderSupervisionBy: textOf(fields['appliedUnderSupervisionBy']),
  };
}

export interface SeenRead {
  readonly visit: string | null;
  readonly task: Task | null;
  readonly finding: Finding | null;
  readonly yearlyServiceDone: boolean;
  readonly baseMonitorLifted: boolean;
  readonly cleanedOut: boolean;
  readonly fitted: { readonly monitors: number; readonly baits: number };
  readonly withdrawn: number;
  readonly partsUsed: Readonly<Record<string, number>>;
  readonly application: ApplicationRead | null;
  readonly repairs: readonly HousingRepair[];
  readonly note: string | null;
}

/** The body of a `station seen`. */
export function readSeen(body: unknown): SeenRead {
  const fields = fieldsOf(body);
  const work = fieldsOf(fields['work']);
  return {
    visit: textOf(fields['visit']),
    task: oneOf(TASKS, fields['task']),
    finding: readFinding(fields['finding']),
    yearlyServiceDone: work['yearlyServiceDone'] === true,
    baseMonitorLifted: work['baseMonitorLifted'] === true,
    cleanedOut: work['cleanedOut'] === true,
    fitted: countInserts(work['fitted']),
    withdrawn: listOf(work['withdrawn']).length,
    partsUsed: readParts(work['partsUsed']),
    repairs: HOUSING_REPAIRS.filter((repair) => listOf(work['repairs']).includes(repair)),
    application: findApplication(body),
    note: textOf(fields['note']),
  };
}

export function countInserts(value: unknown): { readonly monitors: number; readonly baits: number } {
  const kinds = listOf(value).map((item) => fieldsOf(item)['insert']);
  return {
    monitors: kinds.filter((kind) => kind === 'monitor').length,
    baits: kinds.filter((kind) => kind === 'bait').length,
  };
}

function readParts(value: unknown): Readonly<Record<string, number>> {
  const parts: Record<string, number> = {};
  for (const [part, count] of Object.entries(fieldsOf(value))) {
    const number = numberOf(count);
    if (number !== null && number > 0) parts[part] = number;
  }
  return parts;
}

function readFinding(value: unknown): Finding | null {
  const fields = fieldsOf(value);
  const reach = oneOf(REACHES, fields['reach']);
  if (reach === null) return null;
  if (reach !== 'opened') return { reach, why: textOf(fields['why']) ?? '' };
  const termites = oneOf(TERMITE_FINDINGS, fields['termites']);
  const baitLeft = oneOf(BAIT_LEFT, fields['baitLeft']);
  const monitor = oneOf(MONITOR_CONDITIONS, fields['monitor']);
  const housing = oneOf(HOUSING_CONDITIONS, fields['housing']);
  const occupants = oneOf(OCCUPANTS, fields['occupants']);
  if (termites === null || baitLeft === null || monitor === null || housing === null || occupants === null)
    return null;
  return { reach, termites, baitLeft, monitor, housing, occupants };
}

/** In the order of recording, doubles dropped; of doubles the one that carries its receipt stays. */
export function inLedgerOrder(facts: readonly AnyFact[]): readonly AnyFact[] {
  const byId = new Map<string, AnyFact>();
  for (const fact of facts) {
    const known = byId.get(fact.id);
    if (known !== undefined && (known.receipt !== undefined || fact.receipt === undefined)) continue;
    byId.set(fact.id, fact);
  }
  return [...byId.values()].sort(compareRecorded);
}

export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
