import type { CautionKey } from './cautions.ts';
import type { StepId } from './steps.ts';
import type { TellKey } from './tell.ts';

/** Name of an input -> the closed list of its values. */
export type Inputs = Readonly<Record<string, readonly string[]>>;
export type Values<I extends Inputs> = { readonly [K in keyof I]: I[K][number] };
/** One value, several, or (left out) any. */
export type When<I extends Inputs> = { readonly [K in keyof I]?: I[K][number] | readonly I[K][number][] };

export interface Row<I extends Inputs, A extends string> {
  readonly id: string;
  readonly when: When<I>;
  /** The answer to the table's question; other tables may take it as an input. */
  readonly answer: A;
  readonly steps?: readonly StepId[];
  readonly tell?: readonly TellKey[];
  readonly cautions?: readonly CautionKey[];
  /** The row as a sentence that a technician can read aloud. */
  readonly reads: string;
}

/** One question, answered by exactly one row for each combination of its inputs. */
export interface TableDefinition<I extends Inputs, A extends string> {
  readonly id: string;
  readonly question: string;
  readonly inputs: I;
  readonly rows: readonly Row<I, A>[];
}

/** A definition that has been checked over its whole space, with the row of every combination. */
export interface Table<I extends Inputs, A extends string> extends TableDefinition<I, A> {
  readonly lookup: Lookup;
}

interface Lookup {
  readonly names: readonly string[];
  /** for each input: value -> its share of the position in `rowAt` */
  readonly offsets: readonly ReadonlyMap<string, number>[];
  /** position of a combination -> index of its row */
  readonly rowAt: Int16Array;
}

/** Any table, for walking all of them. */
export interface AnyRow {
  readonly id: string;
  readonly when: Readonly<Record<string, string | readonly string[] | undefined>>;
  readonly answer: string;
  readonly steps?: readonly StepId[];
  readonly tell?: readonly TellKey[];
  readonly cautions?: readonly CautionKey[];
  readonly reads: string;
}
export interface AnyDefinition {
  readonly id: string;
  readonly question: string;
  readonly inputs: Inputs;
  readonly rows: readonly AnyRow[];
}
export interface AnyTable extends AnyDefinition {
  readonly lookup: Lookup;
}

export type TableProblem =
  | { readonly kind: 'gap'; readonly combination: string }
  | { readonly kind: 'overlap'; readonly combination: string; readonly rows: readonly string[] }
  | { readonly kind: 'row never reached'; readonly row: string }
  | { readonly kind: 'row id used twice'; readonly row: string }
  | { readonly kind: 'unknown input or value'; readonly row: string; readonly what: string };

/** Checks the definition over its whole space and makes it ready to ask; throws an Error that lists the first problems. */
export function defineTable<const I extends Inputs, const A extends string>(
  definition: TableDefinition<I, A>,
): Table<I, A> {
  const problems = checkTable(definition);
  if (problems.length > 0) {
    const first = problems.slice(0, 5).map((problem) => JSON.stringify(problem));
    throw new Error(`table "${definition.id}" has ${problems.length} problems: ${first.join(' ')}`);
  }
  return { ...definition, lookup: buildLookup(definition) };
}

/**
 * The row that fires for these values. Throws a RangeError when a value is not in the input's list.
 * @example decide(REACH, { reach: 'blocked', misses: 'under the limit' }).answer // 'missed'
 */
export function decide<I extends Inputs, A extends string>(table: Table<I, A>, values: Values<I>): Row<I, A>;
export function decide(table: AnyTable, values: Readonly<Record<string, string>>): AnyRow {
  const { names, offsets, rowAt } = table.lookup;
  let at = 0;
  for (let i = 0; i < names.length; i++) {
    const value = values[names[i] ?? ''];
    const offset = value === undefined ? undefined : offsets[i]?.get(value);
    if (offset === undefined) {
      throw new RangeError(
        `table "${table.id}": ${JSON.stringify(value)} is not a value of "${names[i] ?? ''}"`,
      );
    }
    at += offset;
  }
  const row = table.rows[rowAt[at] ?? -1];
  if (row === undefined) throw new RangeError(`table "${table.id}" has no row at position ${at}`);
  return row;
}

/** Every combination in exactly one row, every row reached, every word known; an empty list = sound. */
export function checkTable(definition: AnyDefinition): readonly TableProblem[] {
  const problems: TableProblem[] = [...listUnknownWords(definition)];
  const seen = new Set<string>();
  for (const row of definition.rows) {
    if (seen.has(row.id)) problems.push({ kind: 'row id used twice', row: row.id });
    seen.add(row.id);
  }
  const reached = new Set<AnyRow>();
  for (const combination of listCombinations(definition.inputs)) {
    const rows = definition.rows.filter((row) => matches(row, combination));
    for (const row of rows) reached.add(row);
    const words = JSON.stringify(combination);
    if (rows.length === 0) problems.push({ kind: 'gap', combination: words });
    if (rows.length > 1) {
      problems.push({ kind: 'overlap', combination: words, rows: rows.map((row) => row.id) });
    }
  }
  for (const row of definition.rows) {
    if (!reached.has(row)) problems.push({ kind: 'row never reached', row: row.id });
  }
  return problems;
}

/** All combinations of the inputs' values, the last input turning fastest. */
export function* listCombinations(inputs: Inputs): Generator<Readonly<Record<string, string>>> {
  const names = Object.keys(inputs);
  const sizes = names.map((name) => inputs[name]?.length ?? 0);
  const count = sizes.reduce((product, size) => product * size, 1);
  for (let at = 0; at < count; at++) {
    const combination: Record<string, string> = {};
    let rest = at;
    for (let i = names.length - 1; i >= 0; i--) {
      const name = names[i] ?? '';
      const size = sizes[i] ?? 1;
      combination[name] = inputs[name]?.[rest % size] ?? '';
      rest = Math.floor(rest / size);
    }
    yield combination;
  }
}

function matches(row: AnyRow, combination: Readonly<Record<string, string>>): boolean {
  for (const [name, wanted] of Object.entries(row.when)) {
    const value = combination[name];
    if (wanted === undefined || value === undefined) continue;
    if (typeof wanted === 'string' ? wanted !== value : !wanted.includes(value)) return false;
  }
  return true;
}

function listUnknownWords(definition: AnyDefinition): readonly TableProblem[] {
  return definition.rows.flatMap((row) =>
    Object.entries(row.when).flatMap(([name, wanted]): readonly TableProblem[] => {
      const known = definition.inputs[name];
      if (known === undefined) return [{ kind: 'unknown input or value', row: row.id, what: name }];
      const values = wanted === undefined ? [] : typeof wanted === 'string' ? [wanted] : wanted;
      return values
        .filter((value) => !known.includes(value))
        .map((value) => ({ kind: 'unknown input or value', row: row.id, what: `${name}: ${value}` }));
    }),
  );
}

function buildLookup(definition: AnyDefinition): Lookup {
  const names = Object.keys(definition.inputs);
  const combinations = [...listCombinations(definition.inputs)];
  const rowAt = new Int16Array(combinations.length);
  combinations.forEach((combination, at) => {
    rowAt[at] = definition.rows.findIndex((row) => matches(row, combination));
  });
  const offsets: ReadonlyMap<string, number>[] = [];
  let stride = 1;
  for (const name of names.toReversed()) {
    const values = definition.inputs[name] ?? [];
    const step = stride;
    offsets.unshift(new Map(values.map((value, i) => [value, i * step])));
    stride *= values.length;
  }
  return { names, offsets, rowAt };
}
