import type { Travel } from './problem.ts';
import type { BareTables, Tables } from './tables.ts';

/** Points a cell of the grid holds on average. */
const POINTS_A_CELL = 4;

/**
 * Each job's nearest jobs that could share a route with it: a common day, and windows that allow one order or the other.
 * Filtered first and counted then, so that a job whose neighbours fall due at other times still finds some.
 */
export function createNear(
  tables: BareTables & Pick<Tables, 'groupOf'>,
  travel: Travel,
  hopeless: Uint8Array,
  nearest: number,
): Pick<Tables, 'near' | 'nearCount'> {
  const { jobs } = tables;
  const nearCount = Math.max(1, Math.min(nearest, jobs - 1));
  const near = new Int32Array(jobs * nearCount).fill(-1);
  const canShare = createCanShare(tables);
  const possible = Int32Array.from({ length: jobs }, (_, j) => j).filter((j) => hopeless[j] === 0);
  if (travel.kind === 'function' && possible.length > 4 * nearCount) fillByGrid();
  else fillBySorting();
  return { near, nearCount };

  function fillBySorting(): void {
    const { place, cost } = tables;
    const away = new Float64Array(jobs);
    for (const j of possible) {
      const at = place[j] ?? 0;
      const others: number[] = [];
      for (const other of possible) {
        if (other === j || !canShare(j, other)) continue;
        const there = place[other] ?? 0;
        away[other] = Math.min(cost.between(at, there), cost.between(there, at));
        others.push(other);
      }
      others.sort((a, b) => (away[a] ?? 0) - (away[b] ?? 0) || a - b);
      for (let k = 0; k < nearCount; k += 1) near[j * nearCount + k] = others[k] ?? -1;
    }
  }

  /** Rings of cells about the job, until as many are found as wanted and the next ring cannot hold a nearer one. */
  function fillByGrid(): void {
    if (travel.kind !== 'function') return;
    const { x, y } = travel;
    const { place } = tables;
    const xOf = (j: number): number => x[place[j] ?? 0] ?? 0;
    const yOf = (j: number): number => y[place[j] ?? 0] ?? 0;
    let left = Number.POSITIVE_INFINITY;
    let low = Number.POSITIVE_INFINITY;
    let right = Number.NEGATIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const j of possible) {
      left = Math.min(left, xOf(j));
      right = Math.max(right, xOf(j));
      low = Math.min(low, yOf(j));
      high = Math.max(high, yOf(j));
    }
    const extent = Math.max(right - left, high - low, Number.MIN_VALUE);
    const side = Math.max(1, Math.ceil(Math.sqrt(possible.length / POINTS_A_CELL)));
    const size = extent / side;
    const cells: number[][] = Array.from({ length: (side + 1) * (side + 1) }, () => []);
    const columnOf = (j: number): number => Math.min(side, Math.floor((xOf(j) - left) / size));
    const rowOf = (j: number): number => Math.min(side, Math.floor((yOf(j) - low) / size));
    for (const j of possible) cells[rowOf(j) * (side + 1) + columnOf(j)]?.push(j);
    const away = new Float64Array(jobs);
    for (const j of possible) {
      const found: number[] = [];
      for (let ring = 0; ring <= side; ring += 1) {
        visitRing(columnOf(j), rowOf(j), ring, side, (column, row) => {
          for (const other of cells[row * (side + 1) + column] ?? []) {
            if (other === j || !canShare(j, other)) continue;
            away[other] = Math.hypot(xOf(other) - xOf(j), yOf(other) - yOf(j));
            found.push(other);
          }
        });
        const sure = ring * size;
        if (
          found.length >= nearCount &&
          found.filter((other) => (away[other] ?? 0) <= sure).length >= nearCount
        )
          break;
      }
      found.sort((a, b) => (away[a] ?? 0) - (away[b] ?? 0) || a - b);
      for (let k = 0; k < nearCount; k += 1) near[j * nearCount + k] = found[k] ?? -1;
    }
  }
}

function visitRing(
  column: number,
  row: number,
  ring: number,
  last: number,
  visit: (column: number, row: number) => void,
): void {
  for (let r = Math.max(0, row - ring); r <= Math.min(last, row + ring); r += 1) {
    const edge = r === row - ring || r === row + ring;
    const step = edge || ring === 0 ? 1 : 2 * ring;
    for (let c = column - ring; c <= column + ring; c += step) if (c >= 0 && c <= last) visit(c, r);
  }
}

function createCanShare(tables: BareTables & Pick<Tables, 'groupOf'>): (a: number, b: number) => boolean {
  const { jobs, days, dayCost, open, close, service, place, seconds, groupOf } = tables;
  const firstDay = new Int32Array(jobs);
  const lastDay = new Int32Array(jobs).fill(-1);
  for (let j = jobs - 1; j >= 0; j -= 1)
    for (let day = days - 1; day >= 0; day -= 1)
      if ((dayCost[j * days + day] ?? -1) >= 0) {
        firstDay[j] = day;
        if ((lastDay[j] ?? -1) < 0) lastDay[j] = day;
      }
  const follows = (a: number, b: number): boolean =>
    (open[a] ?? 0) + (service[a] ?? 0) + seconds.between(place[a] ?? 0, place[b] ?? 0) <= (close[b] ?? 0);
  return (a, b) => {
    // Visits of one group are on different days.
    if ((groupOf[a] ?? -1) >= 0 && groupOf[a] === groupOf[b]) return false;
    const from = Math.max(firstDay[a] ?? 0, firstDay[b] ?? 0);
    const to = Math.min(lastDay[a] ?? 0, lastDay[b] ?? 0);
    for (let day = from; day <= to; day += 1)
      if ((dayCost[a * days + day] ?? -1) >= 0 && (dayCost[b * days + day] ?? -1) >= 0)
        return follows(a, b) || follows(b, a);
    return false;
  };
}
