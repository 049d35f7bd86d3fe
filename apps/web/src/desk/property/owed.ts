import { type Day, type DueItem, type Timeliness, timelinessOn, type WorkKind } from '@sillwatch/trade';

/** Work of one kind and timeliness at one property, with the window that closes first. */
export interface OwedLine {
  readonly work: WorkKind;
  readonly timeliness: Timeliness;
  readonly stations: number;
  readonly tightest: DueItem;
}

const URGENCY: readonly Timeliness[] = ['late', 'past target', 'open', 'not yet'];

/** Most urgent first. */
export function linesOf(items: readonly DueItem[], asOf: Day): readonly OwedLine[] {
  const lines = new Map<string, OwedLine>();
  for (const item of items) {
    const timeliness = timelinessOn(item, asOf);
    const key = `${timeliness} ${item.work}`;
    const line = lines.get(key);
    lines.set(key, {
      work: item.work,
      timeliness,
      stations: (line?.stations ?? 0) + 1,
      tightest: line === undefined || item.latest < line.tightest.latest ? item : line.tightest,
    });
  }
  return [...lines.values()].sort(
    (a, b) =>
      URGENCY.indexOf(a.timeliness) - URGENCY.indexOf(b.timeliness) ||
      a.tightest.latest - b.tightest.latest ||
      b.stations - a.stations,
  );
}
