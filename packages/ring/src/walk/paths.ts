import Flatbush from 'flatbush';
import type { Ground } from './ground.ts';
import { distanceOf, type Point, segmentsMeet } from './plane.ts';

/** Shortest ways over the ground between terminals (stations, gate, truck). */
export interface Paths {
  /** Infinity where no way leads. */
  lengthMetres(from: number, to: number): number;
  /** Every point from one terminal to the other, both included; empty where no way leads. */
  listPoints(from: number, to: number): readonly Point[];
}

/**
 * Visibility graph over terminals and bends (Lozano-Pérez and Wesley 1979), then Dijkstra from every terminal.
 * A shortest path among polygons bends only at their corners, so the graph holds it.
 */
export function findPaths(ground: Ground, terminals: readonly Point[]): Paths {
  const nodes = [...terminals, ...ground.bends];
  const count = nodes.length;
  const lengths = measureSight(ground, nodes);
  const runs = terminals.map((_, from) => dijkstra(lengths, count, from, terminals.length));
  return {
    lengthMetres: (from, to) => runs[from]?.distance[to] ?? Number.POSITIVE_INFINITY,
    listPoints: (from, to) => {
      const run = runs[from];
      if (run === undefined || !Number.isFinite(run.distance[to] ?? Number.POSITIVE_INFINITY)) return [];
      const points: Point[] = [];
      for (let node = to; node >= 0; node = run.before[node] ?? -1) {
        const point = nodes[node];
        if (point !== undefined) points.push(point);
      }
      return points.reverse();
    },
  };
}

/** Metres between nodes that see each other, row by row; Infinity where a wall stands between. */
function measureSight({ walls }: Ground, nodes: readonly Point[]): Float64Array {
  const count = nodes.length;
  const lengths = new Float64Array(count * count).fill(Number.POSITIVE_INFINITY);
  const index = walls.length === 0 ? undefined : new Flatbush(walls.length);
  if (index !== undefined) {
    for (const { a, b } of walls)
      index.add(Math.min(a.x, b.x), Math.min(a.y, b.y), Math.max(a.x, b.x), Math.max(a.y, b.y));
    index.finish();
  }
  for (const [from, a] of nodes.entries()) {
    for (let to = from + 1; to < count; to += 1) {
      const b = nodes[to];
      if (b === undefined) continue;
      let isBlocked = false;
      index?.search(
        Math.min(a.x, b.x),
        Math.min(a.y, b.y),
        Math.max(a.x, b.x),
        Math.max(a.y, b.y),
        (number) => {
          const wall = walls[number];
          if (!isBlocked && wall !== undefined && segmentsMeet({ a, b }, wall)) isBlocked = true;
          return false;
        },
      );
      if (isBlocked) continue;
      const length = distanceOf(a, b);
      lengths[from * count + to] = length;
      lengths[to * count + from] = length;
    }
  }
  return lengths;
}

interface Run {
  readonly distance: Float64Array;
  /** The node before on the way from the start; -1 at the start. */
  readonly before: Int32Array;
}

/** Without a heap: the graph is dense, so looking through all nodes costs no more than their edges (Dijkstra 1959). */
function dijkstra(lengths: Float64Array, count: number, from: number, terminals: number): Run {
  const distance = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const before = new Int32Array(count).fill(-1);
  const isDone = new Uint8Array(count);
  distance[from] = 0;
  for (;;) {
    let nearest = -1;
    let least = Number.POSITIVE_INFINITY;
    for (let node = 0; node < count; node += 1) {
      const so = distance[node] ?? least;
      if (isDone[node] === 0 && so < least) {
        least = so;
        nearest = node;
      }
    }
    if (nearest < 0) return { distance, before };
    isDone[nearest] = 1;
    // Another terminal is a place to stop at, not a corner to go round: a shortest path through it is still one, so nothing is lost.
    if (nearest < terminals && nearest !== from) continue;
    for (let node = 0; node < count; node += 1) {
      const through = least + (lengths[nearest * count + node] ?? Number.POSITIVE_INFINITY);
      if (through < (distance[node] ?? 0)) {
        distance[node] = through;
        before[node] = nearest;
      }
    }
  }
}
