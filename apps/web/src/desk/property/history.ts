import { type AnyFact, compareRecorded, type Day, findMoment, resolveFacts } from '@sillwatch/trade';

/** A fact as it stands today, with every correction that led there, latest first. */
export interface Entry {
  readonly fact: AnyFact;
  readonly day: Day | null;
  /** What it says now; null = withdrawn. */
  readonly body: unknown;
  readonly corrections: readonly { readonly fact: AnyFact; readonly why: string }[];
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
      const corrections = correctionsByRoot.get(fact.id) ?? [];
      return {
        fact,
        day: standing?.when.day ?? findMoment(fact.at)?.day ?? null,
        body: standing === undefined ? null : standing.body,
        corrections: corrections
          .toSorted((a, b) => compareRecorded(b, a))
          .map((correction) => ({ fact: correction, why: textOf(correction.body, 'why') })),
      };
    })
    .sort((a, b) => (b.day ?? 0) - (a.day ?? 0) || compareRecorded(b.fact, a.fact));
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
