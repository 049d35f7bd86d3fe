/** One place: which of the points it serves, and what it costs to serve each of all points from it. */
export interface Cover {
  /** Numbers of points, ascending. */
  readonly serves: readonly number[];
  /** By number of the point; only those of `serves` count. */
  readonly costOf: readonly number[];
}

/**
 * The fewest places that together serve every one of the `count` points, and of those choices one with the least sum over
 * points of the cost from the nearest chosen place that serves it. Indices, ascending. Each point must be served by some place.
 *
 * Points that share no place, not even through others, are told apart first: each such group is small, so branch and bound
 * goes through it whole. Branches on the point with the fewest places left; nothing is left out but what cannot be better.
 */
export function coverExactly(count: number, covers: readonly Cover[]): readonly number[] {
  return listGroups(count, covers)
    .flatMap((group) => coverGroup(group, covers))
    .toSorted((a, b) => a - b);
}

function listGroups(count: number, covers: readonly Cover[]): readonly (readonly number[])[] {
  const leader = Array.from({ length: count }, (_, point) => point);
  const find = (point: number): number => {
    const own = leader[point] ?? point;
    return own === point ? point : find(own);
  };
  for (const { serves } of covers) {
    const [first] = serves;
    if (first === undefined) continue;
    for (const point of serves) leader[find(point)] = find(first);
  }
  const groups = new Map<number, number[]>();
  for (let point = 0; point < count; point++) {
    const head = find(point);
    const group = groups.get(head);
    if (group === undefined) groups.set(head, [point]);
    else group.push(point);
  }
  return [...groups.values()];
}

interface Choice {
  readonly places: readonly number[];
  readonly cost: number;
}

const SAME_COST = 1e-9;

function coverGroup(points: readonly number[], covers: readonly Cover[]): readonly number[] {
  const own = prune(points, covers);
  const placesOf = new Map(
    points.map((point) => [point, own.filter((place) => covers[place]?.serves.includes(point))] as const),
  );
  const widest = own.reduce((most, place) => Math.max(most, covers[place]?.serves.length ?? 0), 1);
  // No choice can cost less than every point from the best of all its places.
  const leastOf = new Map(
    points.map(
      (point) =>
        [
          point,
          Math.min(...(placesOf.get(point) ?? []).map((place) => costFrom(covers, place, point))),
        ] as const,
    ),
  );
  const floor = points.reduce((sum, point) => sum + (leastOf.get(point) ?? 0), 0);
  let best: Choice | undefined;

  const isHopeless = (chosen: readonly number[], open: number): boolean => {
    if (best === undefined) return false;
    const least = chosen.length + Math.ceil(open / widest);
    return least > best.places.length || (least === best.places.length && best.cost <= floor + SAME_COST);
  };
  const search = (chosen: readonly number[], open: readonly number[]): void => {
    if (isHopeless(chosen, open.length)) return;
    if (open.length === 0) {
      const cost = costOfAll(points, chosen, covers);
      if (
        best === undefined ||
        chosen.length < best.places.length ||
        (chosen.length === best.places.length && cost < best.cost - SAME_COST)
      )
        best = { places: chosen, cost };
      return;
    }
    const tightest = open.reduce((least, point) =>
      (placesOf.get(point)?.length ?? 0) < (placesOf.get(least)?.length ?? 0) ? point : least,
    );
    for (const place of placesOf.get(tightest) ?? []) {
      const serves = covers[place]?.serves ?? [];
      search(
        [...chosen, place],
        open.filter((point) => !serves.includes(point)),
      );
    }
  };
  search([], points);
  return best?.places ?? [];
}

/**
 * Without places that another makes needless: it serves the same points and more, each at no greater cost. What is left is
 * sorted so that the best guess comes first.
 */
function prune(points: readonly number[], covers: readonly Cover[]): readonly number[] {
  const mine = covers.flatMap(({ serves }, place) =>
    serves.some((point) => points.includes(point)) ? [place] : [],
  );
  const bySet = new Map<string, number[]>();
  for (const place of mine) {
    const key = covers[place]?.serves.join() ?? '';
    const same = bySet.get(key) ?? [];
    if (same.some((other) => isNoWorse(covers, other, place))) continue;
    bySet.set(key, [...same.filter((other) => !isNoWorse(covers, place, other)), place]);
  }
  const rest = [...bySet.values()].flat();
  const kept = rest.filter(
    (place) =>
      !rest.some(
        (other) =>
          other !== place &&
          (covers[other]?.serves.length ?? 0) > (covers[place]?.serves.length ?? 0) &&
          isNoWorse(covers, other, place),
      ),
  );
  const costOf = (place: number): number =>
    (covers[place]?.serves ?? []).reduce((sum, point) => sum + costFrom(covers, place, point), 0);
  return kept.toSorted(
    (a, b) =>
      (covers[b]?.serves.length ?? 0) - (covers[a]?.serves.length ?? 0) || costOf(a) - costOf(b) || a - b,
  );
}

function isNoWorse(covers: readonly Cover[], one: number, other: number): boolean {
  const served = covers[one]?.serves ?? [];
  return (covers[other]?.serves ?? []).every(
    (point) => served.includes(point) && costFrom(covers, one, point) <= costFrom(covers, other, point),
  );
}

function costFrom(covers: readonly Cover[], place: number, point: number): number {
  return covers[place]?.costOf[point] ?? Number.POSITIVE_INFINITY;
}

function costOfAll(points: readonly number[], chosen: readonly number[], covers: readonly Cover[]): number {
  return points.reduce(
    (sum, point) =>
      sum +
      Math.min(
        ...chosen.map((place) =>
          covers[place]?.serves.includes(point) === true
            ? costFrom(covers, place, point)
            : Number.POSITIVE_INFINITY,
        ),
      ),
    0,
  );
}
