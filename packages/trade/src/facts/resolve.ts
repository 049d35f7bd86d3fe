import { compareText } from '../units/text.ts';
import { checkBody } from './bodies.ts';
import type { AnyFact } from './fact.ts';
import { compareRecorded, type Occurrence, occurrenceOf } from './order.ts';

/** A fact as it stands after corrections, with the time that counts. */
export interface StandingFact {
  readonly fact: AnyFact;
  readonly kind: string;
  readonly body: unknown;
  readonly when: Occurrence;
}

export interface Resolved {
  /** In the order in which they happened. */
  readonly standing: readonly StandingFact[];
  /** Facts whose time cannot be read, and corrections of facts that are not here (yet). */
  readonly passedOver: readonly AnyFact[];
}

export const CORRECTION = 'fact corrected';

/** The fact that a correction names; undefined for any other fact. */
export function correctedId({
  kind,
  body,
}: {
  readonly kind: string;
  readonly body?: unknown;
}): string | undefined {
  return kind === CORRECTION ? readCorrection(body)?.corrects : undefined;
}

/** The body of a correction as it can be read. */
export interface CorrectionRead {
  readonly corrects: string;
  /** null withdraws */
  readonly body: unknown;
  /** null = as recorded */
  readonly at: string | null;
  readonly why: string | null;
}

/** undefined = names no fact */
export function readCorrection(body: unknown): CorrectionRead | undefined {
  if (typeof body !== 'object' || body === null || !('corrects' in body)) return undefined;
  const { corrects } = body;
  if (typeof corrects !== 'string') return undefined;
  return {
    corrects,
    body: 'body' in body ? (body.body ?? null) : null,
    at: 'at' in body && typeof body.at === 'string' ? body.at : null,
    why: 'why' in body && typeof body.why === 'string' ? body.why : null,
  };
}

/** What a correction makes of the fact that it names. */
export interface StandingCorrection {
  readonly correction: AnyFact;
  /** null = withdrawn */
  readonly body: unknown;
  /** null = as recorded */
  readonly at: string | null;
}

export interface Corrections {
  /** Those that name this fact, the last recorded first, whether they stand or not. */
  of(id: string): readonly AnyFact[];
  /** The last one that stands; undefined while the fact says what was recorded. */
  findStanding(fact: AnyFact): StandingCorrection | undefined;
}

/** The rule by which the last correction that stands wins, also over corrections themselves. */
export function readCorrections(corrections: readonly AnyFact[]): Corrections {
  const byTarget = groupByTarget(corrections);
  return {
    of: (id) => byTarget.get(id) ?? [],
    findStanding: (fact) => findStanding(fact, byTarget, new Set()),
  };
}

/**
 * Takes a set of facts (any order, duplicates welcome) to what they say now, in the order in which it happened.
 * The last correction that stands wins; withdrawing a correction brings back what it corrected.
 */
export function resolveFacts(facts: Iterable<AnyFact>): Resolved {
  const factsById = new Map<string, AnyFact>();
  const corrections: AnyFact[] = [];
  for (const fact of facts) {
    const known = factsById.get(fact.id);
    if (known !== undefined && (known.receipt !== undefined || fact.receipt === undefined)) continue;
    factsById.set(fact.id, fact);
  }
  for (const fact of factsById.values()) if (fact.kind === CORRECTION) corrections.push(fact);
  const { findStanding: findCorrection } = readCorrections(corrections);

  const standing: StandingFact[] = [];
  const passedOver: AnyFact[] = [];
  let inOrder = true;
  let previous: StandingFact | undefined;
  for (const fact of factsById.values()) {
    if (fact.kind === CORRECTION) {
      if (!factsById.has(correctedId(fact) ?? '')) passedOver.push(fact);
      continue;
    }
    const correction = corrections.length === 0 ? undefined : findCorrection(fact);
    if (correction !== undefined && correction.body === null) continue;
    const when = occurrenceOf(correction?.at ?? fact.at, fact.receipt?.receivedAt);
    if (when === undefined) {
      passedOver.push(fact);
      continue;
    }
    const body = correction === undefined ? fact.body : correction.body;
    const one: StandingFact = { fact, kind: fact.kind, body, when };
    if (previous !== undefined && compareHappened(previous, one) > 0) inOrder = false;
    standing.push(one);
    previous = one;
  }
  const ordered = inOrder ? standing : sortHappened(standing);
  passedOver.sort((a, b) => compareText(a.id, b.id));
  return { standing: ordered, passedOver };
}

function compareHappened(a: StandingFact, b: StandingFact): number {
  return a.when.epochMs - b.when.epochMs || compareRecorded(a.fact, b.fact);
}

/**
 * As sorting by compareHappened, by plain numbers (time since the first, then place in the list), which is several
 * times faster; the few that share a millisecond are then put in order among themselves.
 */
function sortHappened(standing: readonly StandingFact[]): readonly StandingFact[] {
  const count = standing.length;
  let first = Number.POSITIVE_INFINITY;
  let last = Number.NEGATIVE_INFINITY;
  for (const { when } of standing) {
    if (when.epochMs < first) first = when.epochMs;
    if (when.epochMs > last) last = when.epochMs;
  }
  if ((last - first + 1) * count > Number.MAX_SAFE_INTEGER) return standing.toSorted(compareHappened);
  const keys = new Float64Array(count);
  standing.forEach(({ when }, place) => {
    keys[place] = (when.epochMs - first) * count + place;
  });
  keys.sort();
  const ordered: StandingFact[] = [];
  let runStart = 0;
  for (const key of keys) {
    const one = standing[key % count];
    if (one === undefined) continue;
    if (ordered[runStart]?.when.epochMs !== one.when.epochMs) {
      sortRun(ordered, runStart);
      runStart = ordered.length;
    }
    ordered.push(one);
  }
  sortRun(ordered, runStart);
  return ordered;
}

/** Sorts the end of the list, from `start` on. */
function sortRun(list: StandingFact[], start: number): void {
  if (list.length - start < 2) return;
  for (const one of list.splice(start).sort(compareHappened)) list.push(one);
}

/** Corrections by the fact they name, the last recorded first. */
function groupByTarget(corrections: readonly AnyFact[]): ReadonlyMap<string, readonly AnyFact[]> {
  const byTarget = new Map<string, AnyFact[]>();
  for (const fact of corrections) {
    const target = correctedId(fact);
    if (target === undefined) continue;
    const list = byTarget.get(target);
    if (list === undefined) byTarget.set(target, [fact]);
    else list.push(fact);
  }
  for (const list of byTarget.values()) list.sort((a, b) => compareRecorded(b, a));
  return byTarget;
}

/** What the last correction that stands says of this fact; `seen` makes a ring of corrections harmless. */
function findStanding(
  fact: AnyFact,
  byTarget: ReadonlyMap<string, readonly AnyFact[]>,
  seen: ReadonlySet<string>,
): StandingCorrection | undefined {
  for (const correction of byTarget.get(fact.id) ?? []) {
    if (seen.has(correction.id)) continue;
    const path = new Set(seen).add(correction.id);
    const ofItself = findStanding(correction, byTarget, path);
    if (ofItself !== undefined && ofItself.body === null) continue;
    const said = readCorrection(ofItself === undefined ? correction.body : ofItself.body);
    if (said === undefined || said.corrects !== fact.id) continue;
    const { body, at } = said;
    // The door cannot know the kind that a correction speaks of; here it is known, and a wrong shape is passed over.
    if (body === null || checkBody(fact.kind, body).length === 0) return { correction, body, at };
  }
  return undefined;
}
