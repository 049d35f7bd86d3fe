import type { RoundVisit } from '@sillwatch/trade';
import type { FieldDay, FieldPropertyRow } from '../store/port.ts';

/** One place of the day: planned, or owed and not planned. */
export interface Stop {
  readonly property: string;
  /** undefined = planned for today and not on this phone. */
  readonly row: FieldPropertyRow | undefined;
  /** undefined = no round was published for it. */
  readonly planned: RoundVisit | undefined;
}

/** In driving order as published; without a round, the most urgent first. */
export function stopsOf(day: FieldDay, rows: readonly FieldPropertyRow[]): readonly Stop[] {
  const rowsById = new Map(rows.map((row) => [row.property, row]));
  if (day.round === null) return day.due.map((row) => ({ property: row.property, row, planned: undefined }));
  return day.round.visits.map((planned) => ({
    property: planned.property,
    row: rowsById.get(planned.property),
    planned,
  }));
}

/** RFC 5870: any map on the phone may answer. The label goes along where the map takes one. */
export function geoLink(position: NonNullable<FieldPropertyRow['position']>, name: string): string {
  const at = `${position.latitude.toFixed(6)},${position.longitude.toFixed(6)}`;
  return `geo:${at}?q=${at}(${encodeURIComponent(name)})`;
}

export interface MapPoint {
  readonly x: number;
  readonly y: number;
}

/**
 * Places on a flat sheet, north up: longitude shrunk by the cosine of the middle latitude (equirectangular projection),
 * which is off by less than a thousandth over a day's drive.
 */
export function project(
  positions: readonly NonNullable<FieldPropertyRow['position']>[],
  width: number,
  height: number,
  margin: number,
): readonly MapPoint[] {
  const middle = positions.reduce((sum, { latitude }) => sum + latitude, 0) / Math.max(1, positions.length);
  const flat = positions.map(({ latitude, longitude }) => ({
    x: longitude * Math.cos((middle * Math.PI) / 180),
    y: -latitude,
  }));
  const [left, right] = [Math.min(...flat.map(({ x }) => x)), Math.max(...flat.map(({ x }) => x))];
  const [top, bottom] = [Math.min(...flat.map(({ y }) => y)), Math.max(...flat.map(({ y }) => y))];
  const scale = Math.min(
    (width - 2 * margin) / Math.max(right - left, 1e-6),
    (height - 2 * margin) / Math.max(bottom - top, 1e-6),
  );
  return flat.map(({ x, y }) => ({
    x: width / 2 + (x - (left + right) / 2) * scale,
    y: height / 2 + (y - (top + bottom) / 2) * scale,
  }));
}
