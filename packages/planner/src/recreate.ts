import { NO_WAY } from './breaks.ts';
import type { GroupTable } from './groups.ts';
import type { Random } from './random.ts';
import type { Routes } from './routes.ts';
import type { Tables } from './tables.ts';
import { earliestStart, setWindows } from './windows.ts';

/**
 * Chance that a position is passed over (beta of the paper): what keeps greedy insertion from repeating itself. With a few jobs there
 * are too few positions for the paper's 1 % to change anything, so it is one blink a job there.
 */
const BLINK = 0.01;
const MOST_BLINKS = 0.25;
/** Up to this many jobs every position is tried once the reach is half of them; above, only those beside near jobs. */
const TRY_ALL = 200;
/** Jobs left out earlier that are tried again beside those just taken out. */
const RETRIED = 12;
/** One optional job in so many goes in even where it does not pay at once: two together may. */
const GENEROUS = 8;
/** One search in so many that found nothing beside near jobs looks everywhere. */
const LOOK_EVERYWHERE = 8;

/**
 * Near jobs looked at when the search begins. With few, stops join stops of their own neighbourhood and routes become compact early; the
 * reach grows with the budget spent, as the last gains lie further off (decision 0100).
 */
const FIRST_REACH = 12;

/** Puts the `count` jobs of `list`, and some of those left out before, back where each costs least; `share` (0 to 1) of the budget is spent. */
export type Recreate = (list: Int32Array, count: number, share: number) => void;

/**
 * Greedy insertion with blinks (Christiaens and Vanden Berghe 2020, section 5.3) in one of several orders. An empty route stands as
 * a candidate at its true cost beside the routes in use, not only when nothing else fits.
 */
export function createRecreate(tables: Tables, state: Routes, random: Random): Recreate {
  const {
    jobs,
    routes,
    place,
    service,
    load,
    capacity,
    penalty,
    useCost,
    assignCost,
    varies,
    dayOf,
    secondCost,
    hasBreak,
    hasLongest,
    longest: mostOut,
  } = tables;
  const { near, nearCount, kinds, kindOf, hopeless } = tables;
  const { next, prev, routeOf, depart, latest, span, floor, legCost, routeLoad, severalOn, paid } = state;
  const { legSeconds, hoursCost, workSeconds } = state;
  const { tail, isFrozen, empties, absent, count: countOn, hoursAt } = state;
  const { live, breaks } = state;
  const { lead, leaveBy, hoursWith } = state.longest;
  const { restFrom, departRested, latestFree } = breaks;
  const { open, close, several } = live;
  const { places, matrix: secondsOut, turned: secondsIn, between: secondsBetween } = tables.seconds;
  const { matrix: costOut, turned: costIn, between: costBetween } = tables.cost;
  const timed = Uint8Array.from(paid, (isPaid, r) =>
    isPaid === 1 || hasBreak[r] === 1 || hasLongest[r] === 1 ? 1 : 0,
  );
  const kindSeen = new Int32Array(kinds);
  const sortJobs = createOrders(tables, random);
  const chosen = new Int32Array(jobs);
  const listed = new Int32Array(jobs);
  const logPass = Math.log(1 - Math.max(BLINK, Math.min(MOST_BLINKS, 1 / Math.max(1, jobs))));
  let visit = 0;
  let call = 0;
  let reach = FIRST_REACH;
  let untilBlink = drawBlink();

  // The job being placed; set by `turnToJob`, read by `consider`.
  let job = 0;
  let jobPlace = 0;
  let row = 0;
  let opening = 0;
  let closing = 0;
  let duration = 0;
  let manyWindows = false;
  let turns = false;

  // The best place so far, in one slot; for visits that hang together one for each of them and each day, those of a visit from `slot` on.
  const { groups, groupOf, days } = tables;
  const most = groups.reduce((longest, group) => Math.max(longest, group.jobs.length), 0);
  const slots = Math.max(1, most * days);
  const slotDelta = new Float64Array(slots);
  const slotAfter = new Int32Array(slots);
  const slotRoute = new Int32Array(slots);
  const someDays = new Uint8Array(days);
  let isDayOpen: Uint8Array = someDays;
  let perDay = false;
  let slot = 0;
  /** The slot that `consider` reads and writes. */
  let best = 0;

  return (list, count, share) => {
    call += 1;
    const waiting = state.absentCount();
    // Where jobs are left out room is scarce, and every place for one counts.
    const scarce = waiting > count && count > 0;
    reach = scarce ? nearCount : Math.min(nearCount, FIRST_REACH + Math.floor(share * nearCount));
    let size = 0;
    for (let i = 0; i < count; i += 1) add(list[i] ?? 0);
    if (count === 0) for (let i = 0; i < waiting; i += 1) add(absent[i] ?? 0);
    else if (waiting > count) for (let i = 0; i < RETRIED; i += 1) add(absent[random.below(waiting)] ?? 0);
    sortJobs(chosen, size);
    for (let i = 0; i < size; i += 1) {
      const j = chosen[i] ?? 0;
      const group = groups[groupOf[j] ?? -1];
      if (group === undefined) insertBest(j);
      else insertGroup(group);
    }

    function add(j: number): void {
      if (listed[j] === call || hopeless[j] === 1) return;
      listed[j] = call;
      for (const sibling of groups[groupOf[j] ?? -1]?.jobs ?? []) listed[sibling] = call;
      chosen[size] = j;
      size += 1;
    }
  };

  function drawBlink(): number {
    return 1 + Math.floor(Math.log(1 - random.unit()) / logPass);
  }

  function turnToJob(j: number): void {
    job = j;
    jobPlace = place[j] ?? 0;
    row = jobPlace * places;
    opening = open[j] ?? 0;
    closing = close[j] ?? 0;
    duration = service[j] ?? 0;
    turns = varies[j] === 1;
    manyWindows = several[j] === 1;
  }

  function insertBest(j: number): void {
    turnToJob(j);
    const fee = penalty[j] ?? 0;
    best = 0;
    slotDelta[0] = random.below(GENEROUS) === 0 ? Number.POSITIVE_INFINITY : fee;
    slotAfter[0] = -1;
    // Beside near jobs twice as many positions are looked at, some of them twice over: near pays while its reach is short.
    if (jobs <= TRY_ALL && 2 * reach >= jobs) scanAll();
    else {
      scanNear();
      if (slotAfter[0] === -1 && random.below(LOOK_EVERYWHERE) === 0) scanAll();
    }
    scanEmpty();
    const after = slotAfter[0] ?? -1;
    if (after >= 0) state.insert(j, after, slotRoute[0] ?? 0);
  }

  /** Each visit's best place on each day, then the pattern that costs least in all; its days, and so its routes, are all different. */
  function insertGroup(group: GroupTable): void {
    const { jobs: members, patterns, alike } = group;
    const generous = random.below(GENEROUS) === 0;
    const everywhere = jobs <= TRY_ALL || random.below(LOOK_EVERYWHERE) === 0;
    let fee = 0;
    let scanned = false;
    openDays(group);
    perDay = true;
    for (let m = 0; m < members.length; m += 1) {
      const j = members[m] ?? 0;
      if ((routeOf[j] ?? -1) >= 0) continue;
      fee += penalty[j] ?? 0;
      if (alike && scanned) continue;
      scanned = true;
      slot = alike ? 0 : m * days;
      slotDelta.fill(Number.POSITIVE_INFINITY, slot, slot + days);
      turnToJob(j);
      if (jobs > TRY_ALL) scanNear();
      if (everywhere) scanAll();
      scanEmpty();
    }
    perDay = false;
    let cheapest: Int32Array | undefined;
    let least = generous ? Number.POSITIVE_INFINITY : fee;
    for (const pattern of patterns) {
      let sum = 0;
      for (let m = 0; m < members.length; m += 1) {
        const day = pattern[m] ?? 0;
        const r = routeOf[members[m] ?? 0] ?? -1;
        if (r < 0) sum += slotDelta[(alike ? 0 : m * days) + day] ?? 0;
        else if (dayOf[r] !== day) sum = Number.POSITIVE_INFINITY;
      }
      if (sum < least) {
        least = sum;
        cheapest = pattern;
      }
    }
    if (cheapest === undefined) return;
    for (let m = 0; m < members.length; m += 1) {
      const j = members[m] ?? 0;
      if ((routeOf[j] ?? -1) >= 0) continue;
      const at = (alike ? 0 : m * days) + (cheapest[m] ?? 0);
      state.insert(j, slotAfter[at] ?? 0, slotRoute[at] ?? 0);
    }
  }

  /** Days of the patterns that fit the visits that are on routes. */
  function openDays({ jobs: members, patterns, days: allDays }: GroupTable): void {
    let on = 0;
    for (let m = 0; m < members.length; m += 1) if ((routeOf[members[m] ?? 0] ?? -1) >= 0) on += 1;
    isDayOpen = on === 0 ? allDays : someDays;
    if (on === 0) return;
    someDays.fill(0);
    for (const pattern of patterns) {
      let fits = true;
      for (let m = 0; m < members.length && fits; m += 1) {
        const r = routeOf[members[m] ?? 0] ?? -1;
        fits = r < 0 || dayOf[r] === pattern[m];
      }
      if (!fits) continue;
      for (let m = 0; m < members.length; m += 1)
        if ((routeOf[members[m] ?? 0] ?? -1) < 0) someDays[pattern[m] ?? 0] = 1;
    }
  }

  function scanAll(): void {
    const weight = load[job] ?? 0;
    for (let r = 0; r < routes; r += 1) {
      if (countOn[r] === 0 || (perDay && isDayOpen[dayOf[r] ?? 0] === 0)) continue;
      const price = assignCost(job, r);
      if (price < 0 || (routeLoad[r] ?? 0) + weight > (capacity[r] ?? 0)) continue;
      if (turns) turnTo(r);
      if (perDay) best = slot + (dayOf[r] ?? 0);
      let before = tail[r] ?? 0;
      for (let after = next[before] ?? -1; after >= 0; after = next[after] ?? -1) {
        // No later position can be in time once a route leaves after the window has closed.
        if ((depart[before] ?? 0) > closing) break;
        consider(before, after, r, price);
        before = after;
      }
    }
  }

  function scanNear(): void {
    const weight = load[job] ?? 0;
    const end = job * nearCount + reach;
    for (let k = job * nearCount; k < end; k += 1) {
      const other = near[k] ?? -1;
      if (other < 0) break;
      const r = routeOf[other] ?? -1;
      if (r < 0 || (perDay && isDayOpen[dayOf[r] ?? 0] === 0)) continue;
      const price = assignCost(job, r);
      if (price < 0 || (routeLoad[r] ?? 0) + weight > (capacity[r] ?? 0)) continue;
      if (turns) turnTo(r);
      if (perDay) best = slot + (dayOf[r] ?? 0);
      const held = isFrozen[other] === 1;
      if (!held) consider(prev[other] ?? 0, other, r, price);
      if (!held || tail[r] === other) consider(other, next[other] ?? 0, r, price);
    }
  }

  function scanEmpty(): void {
    visit += 1;
    const emptyCount = state.emptyCount();
    for (let e = 0; e < emptyCount; e += 1) {
      const r = empties[e] ?? 0;
      if (perDay && isDayOpen[dayOf[r] ?? 0] === 0) continue;
      const kind = kindOf[r] ?? 0;
      if (kindSeen[kind] === visit) continue;
      kindSeen[kind] = visit;
      const price = assignCost(job, r);
      if (price < 0) continue;
      const fee = price + (useCost[r] ?? 0);
      if (perDay) best = slot + (dayOf[r] ?? 0);
      if (fee + (secondCost[r] ?? 0) * duration >= (slotDelta[best] ?? 0)) continue;
      if (turns) turnTo(r);
      const first = jobs + 2 * r;
      // An empty route drives nothing: the leg from start to end is not saved by filling it.
      consider(first, first + 1, r, fee + (legCost[first + 1] ?? 0));
    }
  }

  /** Windows as they are on the day of the route. */
  function turnTo(r: number): void {
    setWindows(tables, live, job, dayOf[r] ?? 0);
    opening = open[job] ?? 0;
    closing = close[job] ?? 0;
    manyWindows = several[job] === 1;
  }

  function consider(before: number, after: number, r: number, price: number): void {
    const from = place[before] ?? 0;
    const to = place[after] ?? 0;
    const reach = costIn === undefined ? costBetween(from, jobPlace) : (costIn[row + from] ?? 0);
    const leave = costOut === undefined ? costBetween(jobPlace, to) : (costOut[row + to] ?? 0);
    let delta = price + reach + leave - (legCost[after] ?? 0);
    const least = slotDelta[best] ?? 0;
    if (delta >= least) return;
    const drive = secondsIn === undefined ? secondsBetween(from, jobPlace) : (secondsIn[row + from] ?? 0);
    const reached = (depart[before] ?? 0) + drive;
    if (reached > closing) return;
    let start = reached;
    if (manyWindows) start = earliestStart(live, job, start);
    else if (start < opening) start = opening;
    const onward = secondsOut === undefined ? secondsBetween(jobPlace, to) : (secondsOut[row + to] ?? 0);
    const arrive = start + duration + onward;
    if (arrive > (latest[after] ?? 0)) return;
    if (timed[r] === 1) {
      // What its hours cost at least tells mostly enough, and takes no walk.
      const work = (workSeconds[r] ?? 0) + drive + duration + onward - (legSeconds[after] ?? 0);
      if (delta + (secondCost[r] ?? 0) * work - (hoursCost[r] ?? 0) >= least) return;
      delta += countHours(before, after, r, reached, start + duration, onward);
      if (delta >= least) return;
    }
    untilBlink -= 1;
    if (untilBlink <= 0) {
      untilBlink = drawBlink();
      return;
    }
    slotDelta[best] = delta;
    slotAfter[best] = before;
    slotRoute[best] = r;
  }

  /**
   * What the hours of a route with a break, paid hours or a longest time out cost more, done with the job at `done`; infinite where its
   * break finds no room or it would be out too long.
   */
  function countHours(
    before: number,
    after: number,
    r: number,
    reached: number,
    done: number,
    onward: number,
  ): number {
    const arrive = done + onward;
    const limited = hasLongest[r] === 1;
    const out = limited ? (lead[before] ?? 0) + reached - (depart[before] ?? 0) : 0;
    if (limited && out + duration + onward + (span[after] ?? 0) > (mostOut[r] ?? 0))
      return Number.POSITIVE_INFINITY;
    if (hasBreak[r] === 1) {
      const later = (departRested[before] ?? 0) + reached - (depart[before] ?? 0);
      const rested = Math.min(serve(later), serve(restFrom(r, reached)), restFrom(r, done)) + onward;
      if (arrive > (latestFree[after] ?? 0) && rested > (latest[after] ?? 0)) return Number.POSITIVE_INFINITY;
      if (limited) return hoursWith(job, before, r) - (hoursCost[r] ?? 0);
      return paid[r] === 1 ? breaks.hoursFrom(r, after, arrive, rested) - (hoursCost[r] ?? 0) : 0;
    }
    const soonest = arrive + (span[after] ?? 0);
    const least = floor[after] ?? 0;
    const walked = (severalOn[r] ?? 0) > 0;
    if (limited && (walked || manyWindows)) return hoursWith(job, before, r) - (hoursCost[r] ?? 0);
    const finish = walked ? walk(after, arrive) : Math.max(soonest, least);
    if (limited) {
      const bound = Math.min(closing - out, (latest[after] ?? 0) - out - duration - onward);
      if (finish - Math.min(bound, leaveBy[before] ?? 0) > (mostOut[r] ?? 0)) return Number.POSITIVE_INFINITY;
    }
    return hoursAt(r, finish) - (hoursCost[r] ?? 0);
  }

  /** When service of the job begun by arriving at `time` is over. */
  function serve(time: number): number {
    const start = time >= NO_WAY ? -1 : earliestStart(live, job, time);
    return start < 0 ? NO_WAY : start + duration;
  }

  /** The finish of a route that arrives at `node` at `time`, where several windows forbid looking it up. */
  function walk(node: number, time: number): number {
    while (node < jobs) {
      const after = next[node] ?? 0;
      time = earliestStart(live, node, time) + (service[node] ?? 0);
      time += secondsBetween(place[node] ?? 0, place[after] ?? 0);
      node = after;
    }
    return time;
  }
}

type Order = 'random' | 'load' | 'far' | 'close' | 'narrow' | 'opening' | 'closing' | 'choice';

/** Sorts jobs for insertion in an order drawn by the weights of the paper's section 5.3 (with windows: its section 6.4). */
function createOrders(tables: Tables, random: Random): (list: Int32Array, count: number) => void {
  const { jobs, routes, place, load, open, close, dayCount, cost, days } = tables;
  const depot = place[jobs] ?? 0;
  const away = Int32Array.from({ length: jobs }, (_, j) =>
    routes === 0 ? 0 : cost.between(depot, place[j] ?? 0),
  );
  const names: readonly Order[] = [
    ...Array<Order>(4).fill('random'),
    ...Array<Order>(load.some((weight) => weight !== load[0]) ? 4 : 0).fill('load'),
    ...Array<Order>(2).fill('far'),
    'close',
    ...Array<Order>(2).fill('narrow'),
    ...Array<Order>(2).fill('opening'),
    ...Array<Order>(2).fill('closing'),
    ...Array<Order>(days > 1 ? 2 : 0).fill('choice'),
  ];
  const keys = new Float64Array(jobs);

  return (list, count) => {
    const name = names[random.below(names.length)] ?? 'random';
    for (let i = 0; i < count; i += 1) {
      const j = list[i] ?? 0;
      keys[j] = keyOf(name, j);
    }
    if (count > 60) {
      list.set(Array.from(list.subarray(0, count)).sort((a, b) => (keys[a] ?? 0) - (keys[b] ?? 0)));
      return;
    }
    for (let i = 1; i < count; i += 1) {
      const j = list[i] ?? 0;
      const key = keys[j] ?? 0;
      let at = i - 1;
      for (; at >= 0 && (keys[list[at] ?? 0] ?? 0) > key; at -= 1) list[at + 1] = list[at] ?? 0;
      list[at + 1] = j;
    }
  };

  function keyOf(name: Order, j: number): number {
    switch (name) {
      case 'random':
        return random.unit();
      case 'load':
        return -(load[j] ?? 0);
      case 'far':
        return -(away[j] ?? 0);
      case 'close':
        return away[j] ?? 0;
      case 'narrow':
        return (close[j] ?? 0) - (open[j] ?? 0);
      case 'opening':
        return open[j] ?? 0;
      case 'closing':
        return -(close[j] ?? 0);
      case 'choice':
        return dayCount[j] ?? 0;
    }
  }
}
