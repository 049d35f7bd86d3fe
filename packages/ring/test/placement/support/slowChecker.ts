import type { Point, Proposal, RingRules, Site } from '../../../src/index.ts';

/**
 * A checker that shares no code with the placement: it samples the walls every 2 cm, traces the station line from the
 * samples themselves, and measures along that trace. Slow and plain on purpose.
 */
const STEP = 0.02;

interface Sample {
  readonly wall: Point;
  /** On the line, or undefined where no line point faces this wall. */
  readonly line: Point | undefined;
  /** Arc samples at outer corners have no wall of their own. */
  readonly isWall: boolean;
}

interface Piece {
  readonly ring: number;
  readonly first: number;
  readonly last: number;
}

export interface SlowResult {
  readonly unguardedMetres: number;
  readonly faults: readonly string[];
}

type Ring = readonly Point[];

export function checkSlowly(site: Site, rules: RingRules, proposal: Proposal): SlowResult {
  const faults: string[] = [];
  const d = (rules.setbackMetres.nearest + rules.setbackMetres.farthest) / 2;
  const half = (rules.setbackMetres.farthest - rules.setbackMetres.nearest) / 2;
  const solids = site.structures.map(({ outline, holes }) => [outline, ...holes]);
  const edges = solids.flat().flatMap(edgesOfRing);
  const inSolid = (p: Point) => solids.some((rings) => inRings(p, rings));
  const wallDistance = (p: Point) =>
    edges.reduce((least, [a, b]) => Math.min(least, toSegment(p, a, b)), 1e9);
  const blockedAt = createBlocked(site, rules);

  for (const { at, number, reason, setbackMetres } of proposal.stations) {
    if (inSolid(at)) faults.push(`station ${number} stands inside a structure`);
    if (blockedAt(at, -0.01)) faults.push(`station ${number} stands on forbidden ground`);
    const away = wallDistance(at);
    if (reason.kind === 'ring') {
      const { nearest, farthest } = rules.setbackMetres;
      if (away < nearest - 0.01 || away > farthest + 0.01)
        faults.push(`station ${number} stands ${away.toFixed(3)} m from the wall`);
      if (Math.abs(away - setbackMetres) > 0.02)
        faults.push(`station ${number}: setback said ${setbackMetres}, is ${away}`);
    }
  }

  const rings = solids.flatMap(([outline = [], ...holes]) => [
    oriented(outline, true),
    ...holes.map((hole) => oriented(hole, false)),
  ]);
  const samples = rings.map((ring) => sampleRing(ring, d, inSolid, wallDistance));
  const { cycles, positions } = trace(samples);

  // Where the stations stand on the trace.
  const stationsOn: number[][] = cycles.map(() => []);
  for (const { at, reason, number } of proposal.stations) {
    if (reason.kind !== 'ring') continue;
    let best = 1e9;
    let cycle = -1;
    let along = 0;
    samples.forEach((list, ring) => {
      list.forEach(({ line }, index) => {
        const position = positions[ring]?.[index];
        if (line === undefined || position === undefined) return;
        const away = Math.hypot(line.x - at.x, line.y - at.y);
        if (away < best) {
          best = away;
          cycle = position.cycle;
          along = position.along;
        }
      });
    });
    if (best > half + 0.05) faults.push(`station ${number} stands ${best.toFixed(3)} m off every line`);
    stationsOn[cycle]?.push(along);
  }

  const spacing = rules.greatestSpacingMetres;
  const lineIsGuarded = (cycle: number, along: number, slack: number) => {
    const turn = cycles[cycle] ?? 0;
    return (stationsOn[cycle] ?? []).some((at) => {
      const apart = Math.abs(at - along);
      return Math.min(apart, turn - apart) <= spacing / 2 + slack;
    });
  };

  let unguardedMetres = 0;
  const named = proposal.unguarded.map(({ wall }) => wall);
  samples.forEach((list, ring) => {
    list.forEach((sample, index) => {
      if (!sample.isWall) return;
      const state = guardState(list, positions[ring] ?? [], index, spacing / 2);
      const open =
        state.kind === 'deep' || (state.kind === 'line' && !lineIsGuarded(state.cycle, state.along, 0.03));
      if (open) unguardedMetres += STEP;
      const isNamed = named.some((wall) =>
        wall.some((a, at) => {
          const b = wall[at + 1];
          return b !== undefined && toSegment(sample.wall, a, b) < 0.08;
        }),
      );
      if (open && !isNamed)
        faults.push(
          `wall at ${sample.wall.x.toFixed(2)}, ${sample.wall.y.toFixed(2)} is unguarded and not named`,
        );
    });
  });

  faults.push(
    ...checkNothingBetter(
      site,
      rules,
      samples,
      positions,
      cycles,
      lineIsGuarded,
      blockedAt,
      wallDistance,
      inSolid,
    ),
  );
  return { unguardedMetres, faults };
}

/** Along every unguarded part of the trace there must be no ground for a station within half the spacing. */
function checkNothingBetter(
  site: Site,
  rules: RingRules,
  samples: readonly (readonly Sample[])[],
  positions: readonly (readonly (Position | undefined)[])[],
  cycles: readonly number[],
  isGuarded: (cycle: number, along: number, slack: number) => boolean,
  blockedAt: (p: Point, slack: number) => boolean,
  wallDistance: (p: Point) => number,
  inSolid: (p: Point) => boolean,
): readonly string[] {
  if (site.hardSurfaces.length + site.keepOuts.length === 0) return [];
  const { nearest, farthest } = rules.setbackMetres;
  const half = (farthest - nearest) / 2;
  const count = Math.ceil(half / STEP);
  const depths = [
    0,
    ...Array.from({ length: count }, (_, index) =>
      [-1, 1].map((side) => (side * half * (index + 1)) / count),
    ).flat(),
  ];
  const free: number[][] = cycles.map(() => []);
  samples.forEach((list, ring) => {
    list.forEach(({ wall, line }, index) => {
      const position = positions[ring]?.[index];
      if (line === undefined || position === undefined) return;
      const length = Math.hypot(line.x - wall.x, line.y - wall.y);
      // The whole depth of the band, every 2 cm, the line itself first.
      const isFree = depths.some((shift) => {
        const factor = (length + shift) / length;
        const at = { x: wall.x + (line.x - wall.x) * factor, y: wall.y + (line.y - wall.y) * factor };
        if (blockedAt(at, 0.02) || inSolid(at)) return false;
        // Farther out no other wall may be nearer than its own.
        return shift <= 0 || wallDistance(at) >= length + shift - 0.001;
      });
      if (isFree) free[position.cycle]?.push(position.along);
    });
  });
  const faults: string[] = [];
  free.forEach((places, cycle) => {
    // Ground narrower than 10 cm takes no station; 14 cm of samples surely do.
    const sorted = places.toSorted((a, b) => a - b);
    const wide = sorted.filter(
      (at, index) => (sorted[index + 7] ?? 1e9) - at < 0.15 || at - (sorted[index - 7] ?? -1e9) < 0.15,
    );
    const turn = cycles[cycle] ?? 0;
    for (let along = 0; along < turn; along += 0.1) {
      if (isGuarded(cycle, along, 0.05)) continue;
      const could = wide.some((at) => {
        const apart = Math.abs(at - along);
        return Math.min(apart, turn - apart) < rules.greatestSpacingMetres / 2 - 0.05;
      });
      if (could) faults.push(`line ${cycle} at ${along.toFixed(2)} m could be guarded and is not`);
    }
  });
  return faults;
}

type GuardState =
  | { readonly kind: 'line'; readonly cycle: number; readonly along: number }
  | { readonly kind: 'deep' };

/** A wall that faces no line belongs to the nearer end of its hidden stretch, if that is within reach along the wall. */
function guardState(
  list: readonly Sample[],
  positions: readonly (Position | undefined)[],
  index: number,
  reach: number,
): GuardState {
  const count = list.length;
  const onward = { away: 0, at: index };
  const back = { away: 0, at: index };
  for (let step = 0; step < 2 * count; step++) {
    // Always the end that is nearer along the wall; the samples of a corner's arc take no wall.
    const walker = onward.away <= back.away ? onward : back;
    if (walker.away > reach + STEP) return { kind: 'deep' };
    const position = positions[walker.at];
    if (position !== undefined) return { kind: 'line', ...position };
    const before = list[walker.at]?.wall;
    walker.at = walker === onward ? (walker.at + 1) % count : (walker.at - 1 + count) % count;
    const after = list[walker.at]?.wall;
    // Where another structure stands against this one the wall goes on along that one: not followed here.
    if (before !== undefined && after !== undefined) {
      if (Math.hypot(after.x - before.x, after.y - before.y) > 3 * STEP) walker.away = 1e9;
    }
    if (list[walker.at]?.isWall === true) walker.away += STEP;
  }
  return { kind: 'deep' };
}

interface Position {
  readonly cycle: number;
  readonly along: number;
}

/** Links kept samples into closed lines: within a ring in order, and across hidden walls to the nearest beginning. */
function trace(samples: readonly (readonly Sample[])[]) {
  const pieces: Piece[] = samples.flatMap((list, ring) => listPieces(list, ring));
  const at = (ring: number, index: number): Point => {
    const list = samples[ring] ?? [];
    return list[((index % list.length) + list.length) % list.length]?.line ?? { x: 1e9, y: 1e9 };
  };
  const next = pieces.map((piece) => {
    const end = at(piece.ring, piece.last);
    let best = 0;
    let least = 1e9;
    pieces.forEach((other, index) => {
      const start = at(other.ring, other.first);
      const away = Math.hypot(start.x - end.x, start.y - end.y);
      if (away < least) {
        least = away;
        best = index;
      }
    });
    return best;
  });
  const positions: (Position | undefined)[][] = samples.map((list) => list.map(() => undefined));
  const cycles: number[] = [];
  const seen = new Set<number>();
  pieces.forEach((_, start) => {
    if (seen.has(start)) return;
    const cycle = cycles.length;
    let along = 0;
    let before: Point | undefined;
    let origin: Point | undefined;
    for (let index = start; !seen.has(index); index = next[index] ?? start) {
      seen.add(index);
      const piece = pieces[index];
      if (piece === undefined) break;
      for (let sample = piece.first; sample <= piece.last; sample++) {
        const here = at(piece.ring, sample);
        if (before !== undefined) along += Math.hypot(here.x - before.x, here.y - before.y);
        before = here;
        origin ??= here;
        const count = samples[piece.ring]?.length ?? 1;
        const list = positions[piece.ring];
        if (list !== undefined) list[sample % count] = { cycle, along };
      }
    }
    if (before !== undefined && origin !== undefined)
      along += Math.hypot(origin.x - before.x, origin.y - before.y);
    cycles.push(along);
  });
  return { cycles, positions };
}

function listPieces(list: readonly Sample[], ring: number): readonly Piece[] {
  const count = list.length;
  const gap = list.findIndex(({ line }) => line === undefined);
  if (gap < 0) return [{ ring, first: 0, last: count - 1 }];
  const pieces: Piece[] = [];
  let first: number | undefined;
  for (let step = 1; step <= count; step++) {
    const index = gap + step;
    const isKept = list[index % count]?.line !== undefined;
    if (isKept && first === undefined) first = index;
    if (!isKept && first !== undefined) {
      pieces.push({ ring, first, last: index - 1 });
      first = undefined;
    }
  }
  return pieces;
}

function sampleRing(
  ring: Ring,
  d: number,
  inSolid: (p: Point) => boolean,
  wallDistance: (p: Point) => number,
): readonly Sample[] {
  const samples: Sample[] = [];
  const keep = (wall: Point, nx: number, ny: number, isWall: boolean) => {
    const beside = { x: wall.x + nx * 0.002, y: wall.y + ny * 0.002 };
    if (inSolid(beside)) return;
    const line = { x: wall.x + nx * d, y: wall.y + ny * d };
    const isKept = !inSolid(line) && wallDistance(line) >= d - 0.001;
    samples.push({ wall, line: isKept ? line : undefined, isWall });
  };
  ring.forEach((a, index) => {
    const b = ring[(index + 1) % ring.length] ?? a;
    const c = ring[(index + 2) % ring.length] ?? a;
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    const nx = (b.y - a.y) / length;
    const ny = (a.x - b.x) / length;
    const count = Math.max(1, Math.round(length / STEP));
    for (let step = 0; step < count; step++) {
      const share = (step + 0.5) / count;
      keep({ x: a.x + (b.x - a.x) * share, y: a.y + (b.y - a.y) * share }, nx, ny, true);
    }
    const turn = angleBetween(Math.atan2(b.y - a.y, b.x - a.x), Math.atan2(c.y - b.y, c.x - b.x));
    const arcs = Math.floor((turn * d) / STEP);
    for (let step = 0; step <= arcs && turn > 0; step++) {
      const angle = Math.atan2(ny, nx) + (turn * step) / Math.max(1, arcs);
      keep(b, Math.cos(angle), Math.sin(angle), false);
    }
  });
  return samples;
}

function angleBetween(from: number, to: number): number {
  let turn = to - from;
  while (turn > Math.PI) turn -= 2 * Math.PI;
  while (turn <= -Math.PI) turn += 2 * Math.PI;
  return turn;
}

function createBlocked(site: Site, rules: RingRules) {
  return (p: Point, slack: number): boolean =>
    site.hardSurfaces.some(({ outline }) => signedInside(p, outline) > -slack) ||
    site.keepOuts.some((keepOut) => {
      switch (keepOut.kind) {
        case 'utility_line':
          return keepOut.path.some((a, index) => {
            const b = keepOut.path[index + 1];
            return b !== undefined && toSegment(p, a, b) < keepOut.clearanceMetres + slack;
          });
        case 'well':
        case 'drain':
          return Math.hypot(p.x - keepOut.at.x, p.y - keepOut.at.y) < keepOut.clearanceMetres + slack;
        case 'treated_soil':
          return signedInside(p, keepOut.outline) > -rules.treatedSoilClearanceMetres - slack;
        default:
          return false;
      }
    });
}

/** Metres inside an outline; negative outside. */
function signedInside(p: Point, ring: Ring): number {
  const away = edgesOfRing(ring).reduce((least, [a, b]) => Math.min(least, toSegment(p, a, b)), 1e9);
  return inRings(p, [ring]) ? away : -away;
}

function oriented(ring: Ring, isOuter: boolean): Ring {
  const doubled = edgesOfRing(ring).reduce((sum, [a, b]) => sum + a.x * b.y - b.x * a.y, 0);
  return doubled > 0 === isOuter ? ring : ring.toReversed();
}

function edgesOfRing(ring: Ring): readonly (readonly [Point, Point])[] {
  return ring.map((a, index) => [a, ring[(index + 1) % ring.length] ?? a] as const);
}

function toSegment(p: Point, a: Point, b: Point): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const t = Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

function inRings(p: Point, rings: readonly Ring[]): boolean {
  let inside = false;
  for (const ring of rings) {
    for (const [a, b] of edgesOfRing(ring)) {
      if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) inside = !inside;
    }
  }
  return inside;
}
