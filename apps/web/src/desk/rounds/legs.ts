import type { RoundBody } from '@sillwatch/trade';
import type { NamesByProperty } from './names.ts';

interface Stop {
  readonly visit: string;
  readonly x: number;
  readonly y: number;
}

export interface Legs {
  readonly width: number;
  readonly height: number;
  readonly lines: readonly { readonly person: string; readonly stops: readonly Stop[] }[];
}

const WIDTH = 900;
const EDGE = 30;
/** A town that is all one street still gets a map that can be read. */
const LEAST_HEIGHT = 240;
const MOST_HEIGHT = 620;

/** Visits with a known place, in order, north up; degrees of longitude shrunk by the cosine of the latitude. */
export function drawLegs(rounds: readonly RoundBody[], names: NamesByProperty): Legs {
  const placed = rounds.map(({ person, visits }) => ({
    person,
    stops: visits.flatMap(({ visit, property }) => {
      const position = names.get(property)?.position;
      return position === null || position === undefined ? [] : [{ visit, ...position }];
    }),
  }));
  const all = placed.flatMap(({ stops }) => stops);
  const north = Math.max(...all.map(({ latitude }) => latitude));
  const south = Math.min(...all.map(({ latitude }) => latitude));
  const shrink = Math.cos(((north + south) / 2) * (Math.PI / 180));
  const west = Math.min(...all.map(({ longitude }) => longitude));
  const east = Math.max(...all.map(({ longitude }) => longitude));
  const across = Math.max((east - west) * shrink, 1e-6);
  const down = Math.max(north - south, 1e-6);
  const scale = Math.min((WIDTH - 2 * EDGE) / across, (MOST_HEIGHT - 2 * EDGE) / down);
  const height = Math.max(LEAST_HEIGHT, down * scale + 2 * EDGE);
  const left = (WIDTH - across * scale) / 2;
  const top = (height - down * scale) / 2;
  return {
    width: WIDTH,
    height,
    lines: placed.map(({ person, stops }) => ({
      person,
      stops: stops.map(({ visit, latitude, longitude }) => ({
        visit,
        x: Math.round(left + (longitude - west) * shrink * scale),
        y: Math.round(top + (north - latitude) * scale),
      })),
    })),
  };
}
