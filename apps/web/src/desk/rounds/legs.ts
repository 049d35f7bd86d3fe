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
  /** Where its mark is drawn: beside the place where others stand on it. */
  readonly mark: Point;
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
      const drawn = stops.map(({ position, ...stop }) => ({ ...stop, ...at(position), mark: at(position) }));
      for (const point of ends === undefined ? [] : [at(ends.start), at(ends.end)]) {
        const home = homes.get(`${point.x} ${point.y}`) ?? { ...point, people: [] };
        if (!home.people.includes(person)) home.people.push(person);
        homes.set(`${point.x} ${point.y}`, home);
      }
      const points =
        ends === undefined ? drawn : [at(ends.start), ...drawn.map(({ x, y }) => ({ x, y })), at(ends.end)];
      return { person, day, points: points.map(({ x, y }) => ({ x, y })), stops: drawn };
    });
  const marks = pressApart(
    lines.flatMap((line) => line.stops.map(({ mark }) => mark)),
    [...homes.values()],
    { width, height },
  );
  let next = 0;
  const apart = lines.map((line) => ({
    ...line,
    stops: line.stops.map((stop): Stop => ({ ...stop, mark: marks[next++] ?? stop.mark })),
  }));
  return { width, height, lines: apart, homes: [...homes.values()] };
}

/** Pixels between the middles of two marks that do not touch. */
export const MARKS_APART = 30;
const HOME_APART = 24;
/** Enough for a few dozen marks in a heap; a crowded map stays crowded rather than slow. */
const TURNS = 60;
const MOST_PRESSED = 250;

/**
 * Pushes marks that cover each other apart, each pair by half of what it lacks, time and again; homes stand still. What lies
 * on one spot is spread by its order. A mark never leaves the map.
 */
export function pressApart(
  places: readonly Point[],
  homes: readonly Point[],
  { width, height }: { readonly width: number; readonly height: number },
): readonly Point[] {
  if (places.length > MOST_PRESSED) return places;
  // A little off at first, so that two on one spot know which way to go.
  const marks = places.map(({ x, y }, n) => ({
    x: x + Math.cos(n * 2.4) * 0.5,
    y: y + Math.sin(n * 2.4) * 0.5,
  }));
  for (let turn = 0; turn < TURNS; turn += 1) {
    let isStill = true;
    for (const [n, a] of marks.entries()) {
      for (const home of homes) {
        const push = lackOf(a, home, HOME_APART);
        if (push === undefined) continue;
        isStill = false;
        a.x += push.x;
        a.y += push.y;
      }
      for (const b of marks.slice(n + 1)) {
        const push = lackOf(a, b, MARKS_APART);
        if (push === undefined) continue;
        isStill = false;
        a.x += push.x / 2;
        a.y += push.y / 2;
        b.x -= push.x / 2;
        b.y -= push.y / 2;
      }
      a.x = Math.max(EDGE / 2, Math.min(width - EDGE / 2, a.x));
      a.y = Math.max(EDGE / 2, Math.min(height - EDGE / 2, a.y));
    }
    if (isStill) break;
  }
  return marks.map(({ x, y }) => ({ x: Math.round(x), y: Math.round(y) }));
}

/** What `a` must move by to be so far from `b`; undefined when it is. */
function lackOf(a: Point, b: Point, apart: number): Point | undefined {
  const [x, y] = [a.x - b.x, a.y - b.y];
  const distance = Math.hypot(x, y);
  if (distance >= apart - 0.5) return undefined;
  if (distance === 0) return { x: apart, y: 0 };
  const factor = (apart - distance) / distance;
  return { x: x * factor, y: y * factor };
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
