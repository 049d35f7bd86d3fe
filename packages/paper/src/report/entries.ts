import { type AnyFact, type Day, findMoment } from '@sillwatch/trade';
import { fieldsOf, inLedgerOrder, isFields, textOf } from './read.ts';

/** `corrected` and `withdrawn` are no longer in force and stay readable. */
export type Standing = 'in force' | 'corrected' | 'correction' | 'withdrawn';

/** One wording of an entry: as first recorded, or as a correction put it. */
export interface Version {
  /** The fact that says it so: the first one or the correction. */
  readonly fact: AnyFact;
  readonly body: unknown;
  /** RFC 3339: when it happened. */
  readonly at: string;
  readonly standing: Standing;
  /** Why it was corrected or withdrawn, or why it corrects; null for an entry that nobody touched. */
  readonly why: string | null;
  /** Id of the entry it takes the place of. */
  readonly corrects: string | null;
  /** Id of the correction that took its place or withdrew it, and the day of that. */
  readonly endedBy: string | null;
  readonly endedOn: Day | null;
}

/** A fact with all its wordings, oldest first. */
export interface Entry {
  readonly root: AnyFact;
  readonly versions: readonly Version[];
  /** null when it was withdrawn. */
  readonly current: Version | null;
}

/**
 * Facts with their corrections, in the ledger's order. A correction may name the first fact or an earlier correction of it;
 * the latest holds. A correction whose fact is not among those given stands as an entry of its own, so that nothing drops out.
 */
export function listEntries(facts: readonly AnyFact[]): readonly Entry[] {
  const ordered = inLedgerOrder(facts);
  const factsById = new Map(ordered.map((fact) => [fact.id, fact]));
  const correctionsByRoot = new Map<string, AnyFact[]>();
  const roots: AnyFact[] = [];
  for (const fact of ordered) {
    const root = rootOf(fact, factsById);
    if (root === fact) roots.push(fact);
    else correctionsByRoot.set(root.id, [...(correctionsByRoot.get(root.id) ?? []), fact]);
  }
  return roots.map((root) => createEntry(root, correctionsByRoot.get(root.id) ?? []));
}

const CORRECTION = 'fact corrected';

function rootOf(fact: AnyFact, factsById: ReadonlyMap<string, AnyFact>): AnyFact {
  const seen = new Set<string>();
  let at = fact;
  while (at.kind === CORRECTION && !seen.has(at.id)) {
    seen.add(at.id);
    const corrected = factsById.get(textOf(fieldsOf(at.body)['corrects']) ?? '');
    if (corrected === undefined) return at;
    at = corrected;
  }
  return at;
}

interface Wording {
  readonly fact: AnyFact;
  /** null = withdrawal */
  readonly body: unknown;
  readonly at: string;
  readonly why: string | null;
  readonly corrects: string | null;
}

function createEntry(root: AnyFact, corrections: readonly AnyFact[]): Entry {
  const wordings: Wording[] = [];
  for (const fact of [root, ...corrections]) wordings.push(wordingOf(fact, wordings.at(-1)));
  const versions: Version[] = [];
  for (const [index, wording] of wordings.entries()) {
    if (wording.body === null) continue;
    const next = wordings[index + 1];
    versions.push({
      fact: wording.fact,
      body: wording.body,
      at: wording.at,
      standing: standingOf(wording, next),
      why: next?.why ?? wording.why,
      corrects: wording.corrects,
      endedBy: next?.fact.id ?? null,
      endedOn: next === undefined ? null : (findMoment(next.fact.at)?.day ?? null),
    });
  }
  const last = versions.at(-1);
  return { root, versions, current: last !== undefined && last.endedBy === null ? last : null };
}

function standingOf(wording: Wording, next: Wording | undefined): Standing {
  if (next !== undefined) return next.body === null ? 'withdrawn' : 'corrected';
  return wording.corrects === null ? 'in force' : 'correction';
}

function wordingOf(fact: AnyFact, before: Wording | undefined): Wording {
  if (fact.kind !== CORRECTION)
    return { fact, body: fact.body ?? {}, at: fact.at, why: null, corrects: null };
  const fields = fieldsOf(fact.body);
  return {
    fact,
    body: isFields(fields['body']) ? fields['body'] : null,
    at: textOf(fields['at']) ?? before?.at ?? fact.at,
    why: textOf(fields['why']),
    corrects: textOf(fields['corrects']),
  };
}
