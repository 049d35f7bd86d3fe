/** What a mark can say of a station. Told apart by outline and fill alone; colour only repeats it. */
export const STATION_MARK_KINDS = [
  'monitoring',
  'hit',
  'feeding',
  'baited',
  'clear',
  'carried over',
  'missed',
  'removed',
] as const;
export type StationMark = (typeof STATION_MARK_KINDS)[number];

/** How one part of a mark is painted: filled with the paper or with ink, or a line of either. */
export type MarkPaint = 'outlined' | 'ink' | 'ink line' | 'paper line';

export interface MarkPart {
  /** SVG path data in a box of 24 by 24, middle at 12, 12 */
  readonly d: string;
  readonly paint: MarkPaint;
  /** stroke width in the box; none for `ink` */
  readonly width: number;
  readonly dash?: readonly number[];
}

/**
 * Round: nothing asks for care. Four-cornered: live termites have been seen (barred: leave it).
 * Broken outline: not known. No outline: not there.
 */
export const STATION_MARK_PARTS: Readonly<Record<StationMark, readonly MarkPart[]>> = {
  monitoring: [{ d: circle(7.5), paint: 'outlined', width: 2 }],
  hit: [
    { d: 'M12 2.5 21.5 12 12 21.5 2.5 12Z', paint: 'outlined', width: 2 },
    { d: circle(2.6), paint: 'ink', width: 0 },
  ],
  feeding: [
    { d: 'M12 1.5 22.5 12 12 22.5 1.5 12Z', paint: 'ink', width: 0 },
    { d: 'M7.5 12h9', paint: 'paper line', width: 3 },
  ],
  baited: [
    { d: circle(7.5), paint: 'outlined', width: 2 },
    { d: 'M4.5 12a7.5 7.5 0 0 0 15 0Z', paint: 'ink', width: 0 },
  ],
  clear: [
    { d: circle(9), paint: 'ink', width: 0 },
    { d: 'm7.6 12.4 3.1 3.1 5.7-6.6', paint: 'paper line', width: 2.4 },
  ],
  'carried over': [
    { d: 'M12 12.5v8.5', paint: 'ink line', width: 2 },
    { d: 'M3 15.5a9 9 0 0 1 17.3-1.2', paint: 'ink line', width: 2 },
    { d: 'm21.5 8.5-1.2 6-5.8-1.8', paint: 'ink line', width: 2 },
  ],
  missed: [{ d: circle(7.8), paint: 'outlined', width: 2.4, dash: [3.4, 2.7] }],
  removed: [{ d: 'M5.5 5.5l13 13M18.5 5.5l-13 13', paint: 'ink line', width: 2 }],
};

/** A triangle with its letter's place left free: never taken for a station. */
export const CONCERN_PARTS: readonly MarkPart[] = [
  { d: 'M12 3.5 22 20.5H2Z', paint: 'outlined', width: 2 },
  { d: 'M12 9.5v5M12 17v.6', paint: 'ink line', width: 2 },
];

/** Two rings for a well, a barred ring for a drain. */
export const WELL_PARTS: readonly MarkPart[] = [
  { d: circle(9), paint: 'outlined', width: 2 },
  { d: circle(4), paint: 'ink line', width: 2 },
];
export const DRAIN_PARTS: readonly MarkPart[] = [
  { d: 'M4 4h16v16H4Z', paint: 'outlined', width: 2 },
  { d: 'M8.5 4v16M12 4v16M15.5 4v16', paint: 'ink line', width: 1.5 },
];
/** A board with a letter: where the truck stands. */
export const PARKING_PARTS: readonly MarkPart[] = [
  { d: 'M3.5 3.5h17v17h-17Z', paint: 'ink', width: 0 },
  { d: 'M9.5 17.5v-11h3a3.2 3.2 0 0 1 0 6.4h-3', paint: 'paper line', width: 2.4 },
];

function circle(radius: number): string {
  return `M${12 - radius} 12a${radius} ${radius} 0 1 0 ${2 * radius} 0a${radius} ${radius} 0 1 0 ${-2 * radius} 0Z`;
}
