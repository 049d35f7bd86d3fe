/** Plan coordinates are metres, x east, y north; the drawing's are CSS pixels, x right, y down. */
export interface PlanStation {
  readonly station: string;
  readonly number: number;
  readonly position: readonly [number, number];
  /** middle of its structure, so that its number can stand on the outer side */
  readonly middle: readonly [number, number];
}
export interface PlanInput {
  readonly outlines: readonly (readonly (readonly [number, number])[])[];
  readonly stations: readonly PlanStation[];
  readonly width: number;
  readonly greatestHeight: number;
  /** marks are drawn this many times smaller; 1 when left out */
  readonly shrink?: number;
}
export interface PlacedStation {
  readonly station: string;
  readonly number: number;
  readonly x: number;
  readonly y: number;
  readonly labelX: number;
  readonly labelY: number;
}
export interface Plan {
  readonly width: number;
  readonly height: number;
  readonly outlines: readonly (readonly (readonly [number, number])[])[];
  readonly stations: readonly PlacedStation[];
  readonly pixelsPerMetre: number;
  /** half the side of a mark, CSS pixels */
  readonly markHalf: number;
}

/** half the side of a mark, and the room a two-digit number takes, CSS pixels */
export const MARK_HALF = 11;
export const LABEL_HALF = { x: 11, y: 8 } as const;
const MARGIN = 44;
const LABEL_DISTANCE = 22;

/** Fits outlines and stations into the drawing and sets each number where it covers no mark and no other number. */
export function layOutPlan(input: PlanInput): Plan {
  const points = [...input.outlines.flat(), ...input.stations.map(({ position }) => position)];
  const west = Math.min(...points.map(([x]) => x));
  const east = Math.max(...points.map(([x]) => x));
  const south = Math.min(...points.map(([, y]) => y));
  const north = Math.max(...points.map(([, y]) => y));
  const across = Math.max(1, east - west);
  const along = Math.max(1, north - south);
  const scale = Math.min((input.width - 2 * MARGIN) / across, (input.greatestHeight - 2 * MARGIN) / along);
  const shift = (input.width - across * scale) / 2;
  const toDrawing = ([x, y]: readonly [number, number]): readonly [number, number] => [
    shift + (x - west) * scale,
    MARGIN + (north - y) * scale,
  ];
  const placed = input.stations.map((station) => ({
    ...station,
    at: toDrawing(station.position),
    from: toDrawing(station.middle),
  }));
  const marks = placed.map(({ at }) => at);
  const labels: (readonly [number, number])[] = [];
  const stations = placed.map(({ station, number, at, from }): PlacedStation => {
    const label = freePlace(at, from, marks, labels);
    labels.push(label);
    return { station, number, x: at[0], y: at[1], labelX: label[0], labelY: label[1] };
  });
  return {
    width: input.width,
    height: along * scale + 2 * MARGIN,
    outlines: input.outlines.map((outline) => outline.map(toDrawing)),
    stations,
    pixelsPerMetre: scale,
    markHalf: MARK_HALF / (input.shrink ?? 1),
  };
}

/** Tries outward first, then turning away from it to both sides, near before far; else the place that covers least. */
function freePlace(
  at: readonly [number, number],
  from: readonly [number, number],
  marks: readonly (readonly [number, number])[],
  labels: readonly (readonly [number, number])[],
): readonly [number, number] {
  const outward = Math.atan2(at[1] - from[1], at[0] - from[0]);
  let best: readonly [number, number] = at;
  let bestCost = Number.POSITIVE_INFINITY;
  for (const distance of [LABEL_DISTANCE, LABEL_DISTANCE * 1.5]) {
    for (const turn of [0, 0.5, -0.5, 1, -1, 1.6, -1.6, 2.4, -2.4, Math.PI]) {
      const place = [
        at[0] + Math.cos(outward + turn) * distance,
        at[1] + Math.sin(outward + turn) * distance,
      ] as const;
      const cost = covered(place, marks, labels);
      if (cost === 0) return place;
      if (cost < bestCost) {
        best = place;
        bestCost = cost;
      }
    }
  }
  return best;
}

function covered(
  place: readonly [number, number],
  marks: readonly (readonly [number, number])[],
  labels: readonly (readonly [number, number])[],
): number {
  const over = (other: readonly [number, number], halfX: number, halfY: number) =>
    Math.max(0, halfX - Math.abs(place[0] - other[0])) * Math.max(0, halfY - Math.abs(place[1] - other[1]));
  const overMarks = marks.reduce(
    (sum, mark) => sum + over(mark, MARK_HALF + LABEL_HALF.x - 3, MARK_HALF + LABEL_HALF.y - 3),
    0,
  );
  return labels.reduce((sum, label) => sum + over(label, LABEL_HALF.x * 2, LABEL_HALF.y * 2), overMarks);
}

/** Marks shrink by at most this much before the drawing grows past its sheet. */
const GREATEST_SHRINK = 1.4;

/**
 * How tightly stations stand: `shrink` makes marks smaller (1 to 1.4), `zoom` the drawing larger than its sheet (1 to 3),
 * so that neighbouring marks stand apart. Stations measured at one place cannot be drawn apart and do not count.
 */
export function crowdingOf(input: PlanInput): { readonly shrink: number; readonly zoom: number } {
  const { pixelsPerMetre } = layOutPlan(input);
  const nearest = input.stations
    .map(({ position: [x, y] }) =>
      Math.min(
        ...input.stations
          .map(({ position }) => Math.hypot(position[0] - x, position[1] - y))
          .filter((metres) => metres > 0.2),
      ),
    )
    .filter((metres) => Number.isFinite(metres))
    .sort((a, b) => a - b);
  const tight = nearest[Math.floor(nearest.length / 10)];
  const needed = tight === undefined ? 1 : (2 * MARK_HALF + 2) / (tight * pixelsPerMetre);
  const zoom = Math.min(3, needed / GREATEST_SHRINK);
  return { shrink: Math.min(GREATEST_SHRINK, Math.max(1, needed)), zoom: zoom < 1.15 ? 1 : zoom };
}

/** Where nothing has been measured: stations at even steps round a plain house, clockwise from its south-west corner. */
export function schematicRing(numbers: readonly number[]): {
  readonly outline: readonly (readonly [number, number])[];
  readonly positions: readonly (readonly [number, number])[];
} {
  const step = 3;
  const round = Math.max(4, numbers.length) * step;
  const wide = round * 0.3;
  const deep = round * 0.2;
  const positions = numbers.map((_, index) => alongBox(((index + 0.5) / numbers.length) * round, wide, deep));
  const gap = Math.min(1.6, deep / 4);
  return {
    outline: [
      [gap, gap],
      [wide - gap, gap],
      [wide - gap, deep - gap],
      [gap, deep - gap],
    ],
    positions,
  };
}

function alongBox(distance: number, wide: number, deep: number): readonly [number, number] {
  if (distance <= deep) return [0, distance];
  if (distance <= deep + wide) return [distance - deep, deep];
  if (distance <= 2 * deep + wide) return [wide, deep - (distance - deep - wide)];
  return [wide - (distance - 2 * deep - wide), 0];
}
