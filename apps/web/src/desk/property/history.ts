import {
  type AnyFact,
  compareRecorded,
  type Day,
  findMoment,
  readCorrections,
  resolveFacts,
} from '@sillwatch/trade';

/** What an entry said at one time. */
export interface Saying {
  /** null = withdrawn */
  readonly body: unknown;
  /** RFC 3339 with offset: when it is said to have happened */
  readonly at: string;
}

export interface EntryCorrection {
  readonly fact: AnyFact;
  readonly why: string;
  /** What the entry said until this correction, and from it on; the same where the correction never held. */
  readonly before: Saying;
  readonly after: Saying;
}

/** A fact as it stands today, with every correction that led there, latest first. */
export interface Entry extends Saying {
  readonly fact: AnyFact;
  readonly day: Day | null;
  readonly corrections: readonly EntryCorrection[];
}

/** Entries newest first; corrections stand with what they correct, also corrections of corrections. */
export function historyOf(facts: readonly AnyFact[]): readonly Entry[] {
  const factsById = new Map(facts.map((fact) => [fact.id, fact]));
  const standingById = new Map(resolveFacts(facts).standing.map((standing) => [standing.fact.id, standing]));
  const correctionsByRoot = Map.groupBy(facts.filter(isCorrection), (fact) => rootOf(fact, factsById));
  return [...factsById.values()]
    .filter((fact) => !isCorrection(fact))
    .map((fact): Entry => {
      const standing = standingById.get(fact.id);
      const corrections = sayingsOf(fact, correctionsByRoot.get(fact.id) ?? []);
      return {
        fact,
        day: standing?.when.day ?? findMoment(fact.at)?.day ?? null,
        body: standing === undefined ? null : standing.body,
        at: corrections[0]?.after.at ?? fact.at,
        corrections,
      };
    })
    .sort((a, b) => (b.day ?? 0) - (a.day ?? 0) || compareRecorded(b.fact, a.fact));
}

/**
 * The moment that a new correction says again, so that one before it which gave another day is not undone; null = as first
 * recorded.
 */
export function momentAgain({ fact, at }: Pick<Entry, 'fact' | 'at'>): string | null {
  return at === fact.at ? null : at;
}

/** Each correction with what it changed, the last recorded first. */
function sayingsOf(root: AnyFact, corrections: readonly AnyFact[]): readonly EntryCorrection[] {
  let before: Saying = { body: root.body, at: root.at };
  return corrections
    .toSorted(compareRecorded)
    .map((fact, index, inOrder): EntryCorrection => {
      const standing = readCorrections(inOrder.slice(0, index + 1)).findStanding(root);
      const after: Saying =
        standing === undefined
          ? { body: root.body, at: root.at }
          : { body: standing.body, at: standing.at ?? root.at };
      const one = { fact, why: textOf(fact.body, 'why'), before, after };
      before = after;
      return one;
    })
    .reverse();
}

/** Facts of one station, and the corrections of them wherever they were recorded. */
export function factsOfStation(facts: readonly AnyFact[], station: string): readonly AnyFact[] {
  const factsById = new Map(facts.map((fact) => [fact.id, fact]));
  return facts.filter((fact) => (factsById.get(rootOf(fact, factsById)) ?? fact).station === station);
}

function isCorrection({ kind }: AnyFact): boolean {
  return kind === 'fact corrected';
}

/** Follows a correction to the fact that it is about in the end; a ring of corrections ends where it began. */
function rootOf(fact: AnyFact, factsById: ReadonlyMap<string, AnyFact>): string {
  const seen = new Set<string>();
  let at: AnyFact | undefined = fact;
  let root = fact.id;
  while (at !== undefined && isCorrection(at) && !seen.has(at.id)) {
    seen.add(at.id);
    root = textOf(at.body, 'corrects');
    at = factsById.get(root);
  }
  return root;
}

/** The text under this key; empty when there is none. */
export function textOf(body: unknown, key: string): string {
  if (typeof body !== 'object' || body === null) return '';
  const value: unknown = Object.entries(body).find(([name]) => name === key)?.[1];
  return typeof value === 'string' ? value : '';
}
