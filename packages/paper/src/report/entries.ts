import {
  type AnyFact,
  CORRECTION,
  type Corrections,
  compareRecorded,
  correctedId,
  type Day,
  findMoment,
  readCorrection,
  readCorrections,
  resolveFacts,
} from '@sillwatch/trade';
import { inLedgerOrder } from './read.ts';

/**
 * `corrected` and `withdrawn` are no longer in force and stay readable; `not accepted` is a correction that was never in
 * force, because what it says is not of the entry's form.
 */
export type Standing = 'in force' | 'corrected' | 'correction' | 'withdrawn' | 'not accepted';

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
  /** Id of the fact it corrects. */
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
 * Facts with all their corrections, in the order of recording. Which wording is in force is asked of the fold's own
 * resolveFacts, so that papers and state never differ: the last correction that stands wins, and withdrawing a correction
 * brings back what it corrected. A correction whose fact is not among those given stands as an entry of its own, so that nothing drops out.
 */
export function listEntries(facts: readonly AnyFact[]): readonly Entry[] {
  const ordered = inLedgerOrder(facts);
  const ids = new Set(ordered.map((fact) => fact.id));
  const corrections = readCorrections(ordered.filter(({ kind }) => kind === CORRECTION));
  const roots = ordered.filter((fact) => !ids.has(correctedId(fact) ?? ''));
  const { standing, passedOver } = resolveFacts(ordered);
  const verdicts: Verdicts = {
    bodiesById: new Map(standing.map((item) => [item.fact.id, item.body])),
    passedOver: new Set(passedOver.map((fact) => fact.id)),
  };
  return roots.map((root) => createEntry(root, corrections, verdicts));
}

/** What the fold takes each fact to say now; a fact in neither was withdrawn. */
interface Verdicts {
  readonly bodiesById: ReadonlyMap<string, unknown>;
  readonly passedOver: ReadonlySet<string>;
}

interface Wording {
  readonly fact: AnyFact;
  /** null withdraws what it corrects */
  readonly body: unknown;
  readonly at: string;
  readonly why: string | null;
  readonly corrects: string | null;
}

function createEntry(root: AnyFact, corrections: Corrections, verdicts: Verdicts): Entry {
  const later = wordingsOf(root, root.at, 0, corrections, new Set([root.id]));
  const sayings = [firstWording(root), ...later].sort((a, b) => compareRecorded(a.fact, b.fact));
  const current = findCurrent(root, sayings, verdicts);
  const versions = sayings
    .filter((wording) => wording.fact === root || wording.body !== null)
    .map((wording) => versionOf(wording, current, sayings, corrections));
  return { root, versions, current: versions.find((version) => version.fact === current?.fact) ?? null };
}

function firstWording(root: AnyFact): Wording {
  if (root.kind !== CORRECTION)
    return { fact: root, body: root.body, at: root.at, why: null, corrects: null };
  const orphan = readCorrection(root.body);
  if (orphan === undefined) return { fact: root, body: null, at: root.at, why: null, corrects: null };
  return { ...orphan, fact: root, at: orphan.at ?? root.at };
}

/** The wordings that corrections give, and corrections of corrections, which hold a correction's body one level down. */
function wordingsOf(
  target: AnyFact,
  at: string,
  depth: number,
  corrections: Corrections,
  seen: Set<string>,
): readonly Wording[] {
  const wordings: Wording[] = [];
  for (const fact of corrections.of(target.id).toReversed()) {
    if (seen.has(fact.id)) continue;
    seen.add(fact.id);
    const own = readCorrection(fact.body);
    let read = own;
    for (let level = 0; level < depth; level += 1) read = readCorrection(read?.body);
    wordings.push({
      fact,
      body: read?.body ?? null,
      at: read?.at ?? at,
      why: own?.why ?? null,
      corrects: own?.corrects ?? null,
    });
    wordings.push(...wordingsOf(fact, at, depth + 1, corrections, seen));
  }
  return wordings;
}

/** The saying whose very body the fold took; undefined when the entry was withdrawn. */
function findCurrent(root: AnyFact, sayings: readonly Wording[], verdicts: Verdicts): Wording | undefined {
  if (verdicts.bodiesById.has(root.id)) {
    const body = verdicts.bodiesById.get(root.id);
    return sayings.findLast((wording) => wording.body === body);
  }
  // The fold cannot place it in time, or holds back a correction without its fact; the paper shows its last wording.
  return verdicts.passedOver.has(root.id) ? sayings.findLast((wording) => wording.body !== null) : undefined;
}

function versionOf(
  wording: Wording,
  current: Wording | undefined,
  sayings: readonly Wording[],
  corrections: Corrections,
): Version {
  const { fact, body, at, corrects } = wording;
  const kept = { fact, body, at, corrects };
  const isCorrection = fact.kind === CORRECTION;
  if (fact === current?.fact) {
    const standing = isCorrection ? 'correction' : 'in force';
    return { ...kept, standing, why: wording.why, endedBy: null, endedOn: null };
  }
  const after = (other: Wording | undefined) =>
    other !== undefined && compareRecorded(other.fact, fact) > 0 ? other : undefined;
  const own = isCorrection ? corrections.of(fact.id)[0] : undefined;
  const ender =
    (own === undefined ? undefined : sayings.find((other) => other.fact === own)) ??
    after(current) ??
    (current === undefined ? after(sayings.findLast((other) => other.body === null)) : undefined);
  if (ender === undefined)
    return { ...kept, standing: 'not accepted', why: wording.why, endedBy: null, endedOn: null };
  return {
    ...kept,
    standing: ender.body === null ? 'withdrawn' : 'corrected',
    why: ender.why,
    endedBy: ender.fact.id,
    endedOn: findMoment(ender.fact.at)?.day ?? null,
  };
}
