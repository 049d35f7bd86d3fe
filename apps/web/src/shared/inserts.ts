import type { FittedInsert, LabelProfile, StationModel } from '@sillwatch/trade';

/** What a station of this model holds on its first day: a monitor in each slot that takes one, bait in one that takes nothing else. */
export function firstInserts(
  model: StationModel | undefined,
  profile: Pick<LabelProfile, 'baitGramsPerInsert'> | undefined,
): { readonly inserts: readonly FittedInsert[]; readonly grams: number } {
  const inserts = (model?.slots ?? []).flatMap((slot): readonly FittedInsert[] => {
    if (slot.holds.includes('monitor')) return [{ slot: slot.id, insert: 'monitor' }];
    return model?.layout === 'always baited' ? [{ slot: slot.id, insert: 'bait' }] : [];
  });
  const baits = inserts.filter(({ insert }) => insert === 'bait').length;
  return { inserts, grams: baits * (profile?.baitGramsPerInsert.value ?? 0) };
}
