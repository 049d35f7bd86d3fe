import type { Georeference, Site } from '../site/model.ts';
import { type Draft, readDraft } from './draft.ts';
import { listThings, type Thing } from './things.ts';

export interface Difference {
  readonly change: 'added' | 'changed' | 'removed';
  /** As it is afterwards; as it was, where it was removed. */
  readonly thing: Thing;
}

/** What one drawing has that another has not, thing by thing, in the order of the drawing. Stations count. */
export function compareSites(before: Site, after: Site): readonly Difference[] {
  const was = new Map(listThings(before).map((thing) => [thing.value.id, thing]));
  const found = listThings(after).flatMap((thing): readonly Difference[] => {
    const old = was.get(thing.value.id);
    was.delete(thing.value.id);
    if (old === undefined) return [{ change: 'added', thing }];
    return isSameThing(old, thing) ? [] : [{ change: 'changed', thing }];
  });
  return [...found, ...[...was.values()].map((thing): Difference => ({ change: 'removed', thing }))];
}

export type Rebase =
  | {
      readonly ok: true;
      /** The same edits on what is stored now. */
      readonly draft: Draft;
      /** What others changed meanwhile. */
      readonly theirs: readonly Difference[];
      /** Ids of those that were edited here as well: as the draft has them, they would be overwritten. */
      readonly both: readonly string[];
    }
  /** One of the two was placed on the earth anew meanwhile: their metres no longer mean the same places. */
  | { readonly ok: false; readonly theirs: readonly Difference[] };

/** The draft on what is stored now, which others may have changed since it began. Nothing of theirs goes unseen. */
export function rebase({ base, edits, undone }: Draft, stored: Site): Rebase {
  const theirs = compareSites(base, stored);
  const isPlacedHere = edits.some(({ georeference }) => georeference !== undefined);
  const isPlacedThere = !isSamePlace(base.georeference, stored.georeference);
  if ((isPlacedThere && edits.length > 0) || (isPlacedHere && theirs.length > 0))
    return { ok: false, theirs };
  const touched = new Set(edits.flatMap(({ put, take }) => [...put.map(({ value }) => value.id), ...take]));
  return {
    ok: true,
    draft: readDraft(stored, edits, undone),
    theirs,
    both: theirs.map(({ thing }) => thing.value.id).filter((id) => touched.has(id)),
  };
}

export function isSameThing(one: Thing, other: Thing): boolean {
  return one.layer === other.layer && canonical(one.value) === canonical(other.value);
}

export function isSamePlace(one: Georeference | undefined, other: Georeference | undefined): boolean {
  return one?.longitude === other?.longitude && one?.latitude === other?.latitude;
}

/**
 * A value as text, keys in order, numbers to a fifth of a millimetre: a drawing keeps no more on its way there and back
 * through degrees.
 */
export function canonical(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) => {
    if (typeof inner === 'number') return Math.round(inner * 5_000) / 5_000 + 0;
    if (typeof inner !== 'object' || inner === null || Array.isArray(inner)) return inner;
    return Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)));
  });
}
