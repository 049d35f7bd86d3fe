import type { Place } from '@sillwatch/trade';
import { greatCircleMetres } from '../plan/travel.ts';

/** Places a cell of the grid holds on average. */
const PLACES_A_CELL = 4;

/**
 * The nearest places of each place as the crow flies, itself left out, ascending by number: what a road source is asked for.
 * All others where there are no more than `most`.
 */
export function nearPlaces(all: readonly Place[], most: number): readonly Int32Array[] {
  const places = all.length;
  const latitudes = Float64Array.from(all, ({ latitude }) => latitude);
  const longitudes = Float64Array.from(all, ({ longitude }) => longitude);
  if (places - 1 <= most)
    return Array.from({ length: places }, (_, p) =>
      Int32Array.from({ length: places }, (_, q) => q).filter((q) => q !== p),
    );
  const grid = createGrid(latitudes, longitudes);
  const metresTo = (p: number, q: number): number =>
    greatCircleMetres(
      { latitude: latitudes[p] ?? 0, longitude: longitudes[p] ?? 0 },
      { latitude: latitudes[q] ?? 0, longitude: longitudes[q] ?? 0 },
    );
  return Array.from({ length: places }, (_, p) => {
    const found: { readonly q: number; readonly metres: number }[] = [];
    for (let ring = 0; ring <= grid.side; ring += 1) {
      for (const q of grid.ring(p, ring)) if (q !== p) found.push({ q, metres: metresTo(p, q) });
      // The next ring holds nothing nearer than the inner edge of it.
      const sureMetres = ring * grid.cellMetres;
      if (found.length >= most && found.filter(({ metres }) => metres <= sureMetres).length >= most) break;
    }
    found.sort((a, b) => a.metres - b.metres || a.q - b.q);
    return Int32Array.from(found.slice(0, most), ({ q }) => q).sort();
  });
}

interface Grid {
  readonly side: number;
  /** No less than the shorter side of a cell anywhere on the grid. */
  readonly cellMetres: number;
  /** Places of the cells so many steps away from the place's own. */
  readonly ring: (place: number, steps: number) => readonly number[];
}

/** Equal steps of latitude and longitude. */
function createGrid(latitudes: Float64Array, longitudes: Float64Array): Grid {
  const places = latitudes.length;
  const side = Math.max(1, Math.ceil(Math.sqrt(places / PLACES_A_CELL)));
  const south = latitudes.reduce((a, b) => Math.min(a, b), 90);
  const north = latitudes.reduce((a, b) => Math.max(a, b), -90);
  const west = longitudes.reduce((a, b) => Math.min(a, b), 180);
  const east = longitudes.reduce((a, b) => Math.max(a, b), -180);
  const high = Math.max((north - south) / side, 1e-9);
  const wide = Math.max((east - west) / side, 1e-9);
  const cellOf = (value: number, from: number, size: number): number =>
    Math.min(side - 1, Math.max(0, Math.floor((value - from) / size)));
  const cells: number[][] = Array.from({ length: side * side }, () => []);
  const rowOf = (p: number): number => cellOf(latitudes[p] ?? 0, south, high);
  const columnOf = (p: number): number => cellOf(longitudes[p] ?? 0, west, wide);
  for (let p = 0; p < places; p += 1) cells[rowOf(p) * side + columnOf(p)]?.push(p);
  // A step of longitude is shortest nearest the pole.
  const pole = Math.abs(north) > Math.abs(south) ? north : south;
  const cellMetres = Math.min(
    greatCircleMetres({ latitude: south, longitude: 0 }, { latitude: south + high, longitude: 0 }),
    greatCircleMetres({ latitude: pole, longitude: 0 }, { latitude: pole, longitude: wide }),
  );
  return {
    side,
    cellMetres,
    ring: (p, steps) => {
      const row = rowOf(p);
      const column = columnOf(p);
      const found: number[] = [];
      for (let r = Math.max(0, row - steps); r <= Math.min(side - 1, row + steps); r += 1) {
        const stride = Math.abs(r - row) === steps || steps === 0 ? 1 : 2 * steps;
        for (let c = column - steps; c <= column + steps; c += stride)
          if (c >= 0 && c < side) found.push(...(cells[r * side + c] ?? []));
      }
      return found;
    },
  };
}
