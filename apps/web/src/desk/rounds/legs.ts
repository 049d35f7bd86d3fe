import type { RoundBody } from '@sillwatch/trade';
import type { NamesByProperty } from './names.ts';

interface Position {
  readonly latitude: number;
  readonly longitude: number;
}
interface Point {
  readonly x: number;
  readonly y: number;
}
/** Where a technician's days begin and end. */
export interface Ends {
  readonly start: Position;
  readonly end: Position;
}

export interface Stop extends Point {
  readonly visit: string;
  readonly property: string;
  readonly startsAt: string;
  /** in the round, from 1 */
  readonly order: number;
}

export interface Line {
  readonly person: string;
  readonly day: string;
  /** From the start place over the visits to the end place, as far as they are known. */
  readonly points: readonly Point[];
  readonly stops: readonly Stop[];
}

export interface Legs {
  readonly width: number;
  readonly height: number;
  readonly lines: readonly Line[];
  readonly homes: readonly (Point & { readonly people: readonly string[] })[];
}

const EDGE = 36;
/** A town that is all one street still gets a map that can be read; a tall one does not push the lists away. */
const LEAST_HEIGHT = 240;
const MOST_HEIGHT = 620;

/** Rounds in their places, north up; degrees of longitude shrunk by the cosine of the latitude. Pixels, y down. */
export function drawLegs(
  rounds: readonly RoundBody[],
  names: NamesByProperty,
  endsOf: (person: string) => Ends | undefined,
  width: number,
): Legs {
  const placed = rounds.map(({ person, day, visits }) => ({
    person,
    day,
    ends: endsOf(person),
    stops: visits.flatMap(({ visit, property, startsAt }, index) => {
      const position = names.get(property)?.position ?? null;
      return position === null ? [] : [{ visit, property, startsAt, order: index + 1, position }];
    }),
  }));
  const all = placed.flatMap(({ stops, ends }) => [
    ...stops.map(({ position }) => position),
    ...(ends === undefined || stops.length === 0 ? [] : [ends.start, ends.end]),
  ]);
  if (all.length === 0) return { width, height: LEAST_HEIGHT, lines: [], homes: [] };
  const { height, at } = projectInto(all, width);
  const homes = new Map<string, Point & { readonly people: string[] }>();
  const lines = placed
    .filter(({ stops }) => stops.length > 0)
    .map(({ person, day, ends, stops }): Line => {
      const drawn = stops.map(({ position, ...stop }) => ({ ...stop, ...at(position) }));
      for (const point of ends === undefined ? [] : [at(ends.start), at(ends.end)]) {
        const home = homes.get(`${point.x} ${point.y}`) ?? { ...point, people: [] };
        if (!home.people.includes(person)) home.people.push(person);
        homes.set(`${point.x} ${point.y}`, home);
      }
      const points =
        ends === undefined ? drawn : [at(ends.start), ...drawn.map(({ x, y }) => ({ x, y })), at(ends.end)];
      return { person, day, points: points.map(({ x, y }) => ({ x, y })), stops: drawn };
    });
  return { width, height, lines, homes: [...homes.values()] };
}

function projectInto(
  all: readonly Position[],
  width: number,
): { readonly height: number; readonly at: (position: Position) => Point } {
  const north = Math.max(...all.map(({ latitude }) => latitude));
  const south = Math.min(...all.map(({ latitude }) => latitude));
  const west = Math.min(...all.map(({ longitude }) => longitude));
  const east = Math.max(...all.map(({ longitude }) => longitude));
  const shrink = Math.cos(((north + south) / 2) * (Math.PI / 180));
  const across = Math.max((east - west) * shrink, 1e-6);
  const down = Math.max(north - south, 1e-6);
  const scale = Math.min((width - 2 * EDGE) / across, (MOST_HEIGHT - 2 * EDGE) / down);
  const height = Math.round(Math.max(LEAST_HEIGHT, down * scale + 2 * EDGE));
  const left = (width - across * scale) / 2;
  const top = (height - down * scale) / 2;
  return {
    height,
    at: ({ latitude, longitude }) => ({
      x: Math.round(left + (longitude - west) * shrink * scale),
      y: Math.round(top + (north - latitude) * scale),
    }),
  };
}
