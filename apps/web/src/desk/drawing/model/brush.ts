import { CONCERNS, HARD_SURFACES, PARKING_ID, PLANTINGS, type Point, type Thing } from '@sillwatch/ring';
import { metres } from '@sillwatch/trade/units';

/** What can be drawn. A courtyard is drawn into a structure, all else is a thing of its own. */
export const BRUSH_GROUPS = {
  structures: ['structure', 'courtyard'],
  grounds: [...HARD_SURFACES, ...PLANTINGS, 'treated_soil'],
  lines: ['fence', 'utility_line'],
  places: ['gate', 'well', 'drain', 'parking', 'station'],
  concerns: CONCERNS,
} as const;
export type BrushGroup = keyof typeof BRUSH_GROUPS;
export type Brush = (typeof BRUSH_GROUPS)[BrushGroup][number];

export const BRUSHES: readonly Brush[] = Object.values(BRUSH_GROUPS).flat();

export function isBrush(value: unknown): value is Brush {
  return BRUSHES.some((brush) => brush === value);
}

/** How it is drawn: corner after corner and closed, point after point, or with one press. */
export function shapeOf(brush: Brush): 'outline' | 'path' | 'place' {
  if (brush === 'fence' || brush === 'utility_line') return 'path';
  const placed: readonly Brush[] = [...BRUSH_GROUPS.places, ...BRUSH_GROUPS.concerns];
  return placed.includes(brush) ? 'place' : 'outline';
}

/** Whether one must say how far to stay clear of it: the label or the code says so, and no number is made up. */
export function needsClearance(brush: Brush): boolean {
  return brush === 'utility_line' || brush === 'well' || brush === 'drain';
}

/** A gate that a person walks through, where nobody measured it. */
const USUAL_GATE_METRES = 0.9;

/** What is said of a thing besides its corners when it is drawn. */
export interface Said {
  readonly id: string;
  /** Of a structure. */
  readonly name: string;
  readonly clearanceMetres: number | null;
}

/**
 * The thing that was drawn; undefined for a courtyard and a station, which have to do
 * with a structure, and where a number is missing.
 */
export function thingDrawn(
  brush: Brush,
  { id, name, clearanceMetres }: Said,
  points: readonly Point[],
): Thing | undefined {
  const [at] = points;
  if (at === undefined) return undefined;
  const hard = HARD_SURFACES.find((kind) => kind === brush);
  if (hard !== undefined) return { layer: 'hardSurfaces', value: { id, kind: hard, outline: points } };
  const planting = PLANTINGS.find((kind) => kind === brush);
  if (planting !== undefined) return { layer: 'plantings', value: { id, kind: planting, outline: points } };
  const concern = CONCERNS.find((kind) => kind === brush);
  if (concern !== undefined) return { layer: 'concerns', value: { id, kind: concern, at } };
  switch (brush) {
    case 'structure':
      return {
        layer: 'structures',
        value: { id, name, foundation: 'unknown', outline: points, holes: [] },
      };
    case 'treated_soil':
      return { layer: 'keepOuts', value: { id, kind: brush, outline: points } };
    case 'fence':
      return { layer: 'fences', value: { id, path: points } };
    case 'gate':
      return { layer: 'gates', value: { id, at, widthMetres: metres(USUAL_GATE_METRES) } };
    case 'parking':
      return { layer: 'parking', value: { id: PARKING_ID, at } };
    case 'utility_line':
    case 'well':
    case 'drain': {
      if (clearanceMetres === null) return undefined;
      const clearance = metres(clearanceMetres);
      return brush === 'utility_line'
        ? { layer: 'keepOuts', value: { id, kind: brush, path: points, clearanceMetres: clearance } }
        : { layer: 'keepOuts', value: { id, kind: brush, at, clearanceMetres: clearance } };
    }
    default:
      return undefined;
  }
}
