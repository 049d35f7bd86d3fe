/** Closed lists that several tables share. What they mean stands in rules/situation.ts, which derives them. */

/** What today's finding counts as; the answers of the table `finding`. */
export const ACTIVITIES = ['not opened', 'nothing', 'signs', 'hit', 'feeding'] as const;
export type Activity = (typeof ACTIVITIES)[number];

/** The answers of the table `disturb`. */
export const MAY_MOVE = ['not opened', 'anything', 'not the base monitor', 'nothing'] as const;
export type MayMove = (typeof MAY_MOVE)[number];

/** Bait found, against the profile's threshold. `gone` also where the ledger says bait and none was found. */
export const BAIT_AMOUNTS = ['none', 'enough', 'at or under the threshold', 'gone'] as const;
export type BaitAmount = (typeof BAIT_AMOUNTS)[number];

/** Monitors that the model has slots for. */
export const MONITOR_SLOTS = ['none', 'one', 'two'] as const;

/** Where the model takes bait: beside the base monitor, only in the base's own place, or nowhere. */
export const BAIT_PLACES = ['beside the base', 'in place of the base', 'none'] as const;

export const YES_NO = ['yes', 'no'] as const;
