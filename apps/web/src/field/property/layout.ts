import type { Site } from '@sillwatch/ring';
import { siteOf } from '@sillwatch/rounds';
import type { PropertyState } from '@sillwatch/trade';
import { crowdingOf, layOutPlan, type Plan, schematicRing } from '../../desk/property/planLayout.ts';

type XY = readonly [number, number];

export interface YardPlan {
  readonly plan: Plan;
  readonly isToScale: boolean;
  /** Drawing points, in the order in which they are painted. */
  readonly ground: readonly { readonly kind: string; readonly points: readonly XY[] }[];
  readonly houses: readonly (readonly XY[])[];
  readonly fences: readonly (readonly XY[])[];
  readonly walk: readonly XY[];
  readonly parking: XY | undefined;
  /** From the drawing back to local metres; undefined where nothing has been measured. */
  readonly toMetres: ((x: number, y: number) => XY) | undefined;
}

interface Input {
  readonly state: PropertyState;
  /** Local metres, from the start on. */
  readonly walk: readonly XY[];
  /** CSS pixels */
  readonly width: number;
  readonly greatestHeight: number;
  readonly isLarge: boolean;
}

/** The property laid out for a phone: houses, what lies round them, stations with their numbers, and the walk. */
export function layOutYard(input: Input): YardPlan {
  const site = siteOf(input.state);
  return site.stations.length + site.structures.length === 0 ? vague(input) : toScale(input, site);
}

function toScale({ state, walk, width, greatestHeight, isLarge }: Input, site: Site): YardPlan {
  const points = (list: readonly { readonly x: number; readonly y: number }[]): readonly XY[] =>
    list.map(({ x, y }) => [x, y] as const);
  const ground = [
    ...site.plantings.map(({ kind, outline }) => ({ kind: kind as string, outline: points(outline) })),
    ...site.hardSurfaces.map(({ kind, outline }) => ({ kind: kind as string, outline: points(outline) })),
  ];
  const houses = site.structures.map(({ outline }) => points(outline));
  const fences = site.fences.map(({ path }) => points(path));
  const parking = site.parking === undefined ? [] : [points([site.parking])];
  const outlines = [...houses, ...ground.map(({ outline }) => outline), ...fences, walk, ...parking];
  const middles = new Map(site.structures.map(({ id, outline }) => [id, middleOf(points(outline))]));
  const structureOf = new Map(state.stations.map(({ station, structure }) => [station, structure]));
  const all = middleOf(site.stations.map(({ at }) => [at.x, at.y] as const));
  const stations = site.stations.map(({ id, number, at }) => ({
    station: id,
    number,
    position: [at.x, at.y] as const,
    middle: middles.get(structureOf.get(id) ?? '') ?? all,
  }));
  const sheet = { outlines, stations, width, greatestHeight };
  const { shrink, zoom } = crowdingOf(sheet);
  const factor = isLarge ? Math.max(2, zoom) : 1;
  const plan = layOutPlan({
    ...sheet,
    shrink,
    width: width * factor,
    greatestHeight: greatestHeight * factor,
  });
  const drawn = [...plan.outlines];
  const take = (count: number) => drawn.splice(0, count);
  const housesDrawn = take(houses.length);
  const groundDrawn = take(ground.length);
  const fencesDrawn = take(fences.length);
  const [walkDrawn = []] = take(1);
  return {
    plan,
    isToScale: true,
    houses: housesDrawn,
    ground: ground.flatMap(({ kind }, i) => {
      const outline = groundDrawn[i];
      return outline === undefined ? [] : [{ kind, points: outline }];
    }),
    fences: fencesDrawn,
    walk: walkDrawn,
    parking: drawn[0]?.[0],
    toMetres: inverseOf(outlines.flat()[0] ?? stations[0]?.position, plan, stations.length > 0),
  };
}

/** The drawing keeps north up and one scale, so one known point gives the way back. */
function inverseOf(known: XY | undefined, plan: Plan, hasStations: boolean): YardPlan['toMetres'] {
  const at =
    plan.outlines.flat()[0] ?? (hasStations ? plan.stations.map(({ x, y }): XY => [x, y])[0] : undefined);
  if (known === undefined || at === undefined) return undefined;
  return (x, y) => [
    known[0] + (x - at[0]) / plan.pixelsPerMetre,
    known[1] - (y - at[1]) / plan.pixelsPerMetre,
  ];
}

function vague({ state, width, greatestHeight }: Input): YardPlan {
  const standing = state.stations.filter(({ inService }) => inService);
  const ring = schematicRing(standing.map(({ number }) => number));
  const middle = middleOf(ring.outline);
  const stations = standing.flatMap((station, index) => {
    const position = ring.positions[index];
    return position === undefined
      ? []
      : [{ station: station.station, number: station.number, position, middle }];
  });
  const plan = layOutPlan({ outlines: [ring.outline], stations, width, greatestHeight });
  return {
    plan,
    isToScale: false,
    houses: plan.outlines,
    ground: [],
    fences: [],
    walk: [],
    parking: undefined,
    toMetres: undefined,
  };
}

function middleOf(points: readonly XY[]): XY {
  const count = Math.max(1, points.length);
  return [points.reduce((sum, [x]) => sum + x, 0) / count, points.reduce((sum, [, y]) => sum + y, 0) / count];
}
