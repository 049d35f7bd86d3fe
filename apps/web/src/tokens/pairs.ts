/** Every pair of ink and ground that a screen uses, with the contrast it must reach (WCAG 2.2: 1.4.3, 1.4.6, 1.4.11). */
export interface Pair {
  readonly ink: string;
  readonly ground: string;
  readonly least: number;
}

const grounds = ['paper', 'sheet'] as const;
const body = (ink: string, ground: string): Pair => ({ ink, ground, least: 7 });
const large = (ink: string, ground: string): Pair => ({ ink, ground, least: 4.5 });
const shape = (ink: string, ground: string): Pair => ({ ink, ground, least: 3 });

const textColours = ['ink', 'ink-soft', 'late', 'open', 'coming', 'hit', 'feeding', 'baited', 'clear'];
const markColours = ['monitoring', 'hit', 'feeding', 'baited', 'clear', 'missed', 'removed', 'late', 'open'];
const softs = ['accent', 'late', 'open', 'coming', 'hit', 'feeding', 'baited'];

export const PAIRS: readonly Pair[] = [
  ...grounds.flatMap((ground) => textColours.map((ink) => body(ink, ground))),
  ...grounds.map((ground) => large('accent', ground)),
  body('ink', 'well'),
  body('ink-soft', 'well'),
  large('on-accent', 'accent'),
  ...softs.flatMap((name) => [body('ink', `${name}-soft`), large(name, `${name}-soft`)]),
  body('ink-soft', 'accent-soft'),
  ...grounds.flatMap((ground) => [shape('line-strong', ground), shape('focus', ground)]),
  shape('focus', 'well'),
  ...grounds.flatMap((ground) => markColours.map((ink) => shape(ink, ground))),
  ...markColours.map((ink) => shape(ink, 'well')),
];

/** In the yard every word is read in glare: 7:1 (WCAG 2.2, 1.4.6) also on buttons and tints, large letters too. */
export const YARD_PAIRS: readonly Pair[] = [
  ...grounds.flatMap((ground) => ['ink', 'ink-soft', 'late', 'feeding'].map((ink) => body(ink, ground))),
  body('on-accent', 'accent'),
  body('ink', 'well'),
  body('ink-soft', 'well'),
  ...softs.map((name) => body('ink', `${name}-soft`)),
  ...['accent', 'open', 'feeding'].map((name) => body('ink-soft', `${name}-soft`)),
];
