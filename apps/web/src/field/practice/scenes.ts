import type { Finding, OpenedFinding } from '@sillwatch/trade';

/** One station of the practice yard: what happened before, and what is under the cap today. */
export interface Scene {
  readonly key: SceneKey;
  /** Looks of earlier visits, days before today, oldest first. */
  readonly before: readonly { readonly daysAgo: number; readonly finding: Finding }[];
  /** What there is to be seen; a trainee who looks well records this. */
  readonly truth: Finding;
}

export const SCENE_KEYS = [
  'quiet',
  'mud',
  'hit',
  'feeding',
  'feedingLow',
  'ended',
  'clear',
  'lost',
  'flooded',
  'ants',
  'swollen',
  'broken',
] as const;
export type SceneKey = (typeof SCENE_KEYS)[number];

const quiet: OpenedFinding = {
  reach: 'opened',
  termites: 'none',
  baitLeft: 'no bait',
  monitor: 'sound',
  housing: 'sound',
  occupants: 'none',
};
const hit: OpenedFinding = { ...quiet, termites: 'live on monitor' };
const feeding: OpenedFinding = { ...quiet, termites: 'live on bait', baitLeft: 'three quarters' };
const baited: OpenedFinding = { ...quiet, baitLeft: 'half' };
const lost: Finding = { reach: 'not found', why: 'under new paving' };
const usual = { daysAgo: 100, finding: quiet } as const;

/** Every state that a station can be in, each with a finding of its own. Invented. */
export const SCENES: readonly Scene[] = [
  { key: 'quiet', before: [usual], truth: quiet },
  { key: 'mud', before: [usual], truth: { ...quiet, termites: 'signs only' } },
  { key: 'hit', before: [usual], truth: hit },
  {
    key: 'feeding',
    before: [
      { daysAgo: 100, finding: hit },
      { daysAgo: 50, finding: feeding },
    ],
    truth: { ...feeding, baitLeft: 'half' },
  },
  {
    key: 'feedingLow',
    before: [
      { daysAgo: 100, finding: hit },
      { daysAgo: 50, finding: { ...feeding, baitLeft: 'half' } },
    ],
    truth: { ...feeding, baitLeft: 'gone' },
  },
  {
    key: 'ended',
    before: [
      { daysAgo: 100, finding: hit },
      { daysAgo: 50, finding: feeding },
    ],
    truth: { ...quiet, baitLeft: 'three quarters' },
  },
  {
    key: 'clear',
    before: [
      { daysAgo: 300, finding: hit },
      { daysAgo: 240, finding: feeding },
      { daysAgo: 180, finding: { ...feeding, baitLeft: 'half' } },
      { daysAgo: 120, finding: baited },
      { daysAgo: 60, finding: baited },
    ],
    truth: baited,
  },
  { key: 'lost', before: [usual], truth: lost },
  { key: 'flooded', before: [usual], truth: { ...quiet, monitor: 'rotten', housing: 'flooded' } },
  { key: 'ants', before: [usual], truth: { ...quiet, occupants: 'ants' } },
  { key: 'swollen', before: [usual], truth: { ...quiet, monitor: 'swollen' } },
  { key: 'broken', before: [usual], truth: { ...quiet, housing: 'broken' } },
];

/** A look that was missed before it was found again would hide the state of the rest, so only one station starts missed. */
export const MISSED_BEFORE: {
  readonly scene: SceneKey;
  readonly daysAgo: number;
  readonly finding: Finding;
} = {
  scene: 'lost',
  daysAgo: 20,
  finding: lost,
};
