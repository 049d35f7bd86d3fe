import {
  addDays,
  createWindowBook,
  type Day,
  type DueWindow,
  type VisitChain,
  type VisitPlan,
  type VisitStation,
  type WindowRule,
  type WorkKind,
} from '@sillwatch/trade';

/**
 * The days on which one visit may be made. Whichever days from `earliest` to `latest` the visits to one property are given,
 * every window is kept: so that a planner that knows nothing of what follows what may choose each by itself.
 */
export interface VisitSpan {
  readonly nominal: Day;
  readonly earliest: Day;
  readonly latest: Day;
  /** Days after `latest` until here break a window, but spoil no other visit. */
  readonly lateUntil: Day;
  /** First day on which a window that is still open would be broken; later than the horizon when none is. */
  readonly firstLate: Day;
  /** What the works aim at, each with how many aim there. */
  readonly aims: readonly { readonly target: Day; readonly count: number }[];
}

export type WindowBooks = (rule: WindowRule) => (from: Day) => DueWindow;

/** One book of windows a rule, shared by all properties. */
export function createWindowBooks(): WindowBooks {
  const books = new Map<WindowRule, (from: Day) => DueWindow>();
  return (rule) => {
    const known = books.get(rule);
    if (known !== undefined) return known;
    const book = createWindowBook(rule);
    books.set(rule, book);
    return book;
  };
}

export function isYearly(work: WorkKind): boolean {
  return work === 'yearly service' || work === 'carried-over service';
}

/**
 * Widens each visit of a property from its nominal day, one day to either side in turn, as long as every combination of
 * days still keeps every window, order, and the end of the horizon. What cannot be in time at all stays as late as it is.
 */
export function findSpans(
  stations: readonly VisitStation[],
  visits: VisitPlan['visits'],
  pinned: (visit: number) => boolean,
  from: Day,
  to: Day,
  books: WindowBooks,
): readonly VisitSpan[] {
  const bounds = readBounds(stations, visits, from, to, books);
  const first = visits.map(({ day }) => day);
  const last = visits.map(({ day }) => day);
  const left = visits.map((_, i) => !pinned(i));
  const right = visits.map((_, i) => !pinned(i));
  for (let grows = true; grows; ) {
    grows = false;
    for (let i = 0; i < visits.length; i += 1) {
      if (left[i] === true && mayBegin(i, shift(first[i], -1))) {
        first[i] = shift(first[i], -1);
        grows = true;
      } else left[i] = false;
      if (right[i] === true && mayEnd(i, shift(last[i], 1), true)) {
        last[i] = shift(last[i], 1);
        grows = true;
      } else right[i] = false;
    }
  }
  return visits.map(({ day }, i): VisitSpan => {
    const latest = last[i] ?? day;
    let lateUntil = latest;
    while (!pinned(i) && mayEnd(i, shift(lateUntil, 1), false)) lateUntil = shift(lateUntil, 1);
    return {
      nominal: day,
      earliest: first[i] ?? day,
      latest,
      lateUntil,
      firstLate: bounds.firstLate[i] ?? shift(to, 1),
      aims: [...(bounds.aims[i] ?? [])].map(([target, count]) => ({ target, count })),
    };
  });

  function mayBegin(i: number, day: Day): boolean {
    if (day < from || day < (bounds.lowest[i] ?? from)) return false;
    if (i > 0 && day <= (last[i - 1] ?? day)) return false;
    return (
      (bounds.into[i] ?? []).every(
        ({ visit, rule, early }) => !early || rule(last[visit] ?? day).earliest <= day,
      ) &&
      (bounds.outOf[i] ?? []).every(
        ({ visit, rule, kept }) => kept && rule(day).latest >= (last[visit] ?? day),
      ) &&
      (bounds.tails[i] ?? []).every((rule) => rule(day).latest > to)
    );
  }

  function mayEnd(i: number, day: Day, inTime: boolean): boolean {
    if (day > to || (inTime && day > (bounds.highest[i] ?? to))) return false;
    if (i + 1 < visits.length && day >= (first[i + 1] ?? day)) return false;
    return (
      (bounds.into[i] ?? []).every(
        ({ visit, rule, kept }) => !inTime || (kept && day <= rule(first[visit] ?? day).latest),
      ) &&
      (bounds.outOf[i] ?? []).every(
        ({ visit, rule, early }) => !early || rule(day).earliest <= (first[visit] ?? day),
      )
    );
  }
}

/** A visit that starts a window which another one serves. */
interface Link {
  readonly visit: number;
  readonly rule: (from: Day) => DueWindow;
  /** The earliest day counts too: not where a yearly service stands in for a look, which it may on any day. */
  readonly early: boolean;
  /** False where it is late as it is. */
  readonly kept: boolean;
}

interface Bounds {
  readonly lowest: Day[];
  readonly highest: Day[];
  readonly firstLate: Day[];
  readonly into: Link[][];
  readonly outOf: Link[][];
  /** Rules whose next window must not close within the horizon. */
  readonly tails: ((from: Day) => DueWindow)[][];
  readonly aims: Map<Day, number>[];
}

function readBounds(
  stations: readonly VisitStation[],
  visits: VisitPlan['visits'],
  from: Day,
  to: Day,
  books: WindowBooks,
): Bounds {
  const bounds: Bounds = {
    lowest: visits.map(() => from),
    highest: visits.map(() => to),
    firstLate: visits.map(() => shift(to, 1)),
    into: visits.map(() => []),
    outOf: visits.map(() => []),
    tails: visits.map(() => []),
    aims: visits.map(() => new Map<Day, number>()),
  };
  const servedBy = new Map<string, Service[]>();
  visits.forEach(({ day, served }, visit) => {
    for (const { station, work } of served) {
      const own = servedBy.get(station);
      const service = { visit, day, yearly: isYearly(work) };
      if (own === undefined) servedBy.set(station, [service]);
      else own.push(service);
    }
  });
  const classes = new Map<string, { station: VisitStation; services: readonly Service[]; count: number }>();
  for (const station of stations) {
    const services = servedBy.get(station.station) ?? [];
    const key = `${chainKey(station.look)}/${chainKey(station.yearly)}/${services.map(({ visit, yearly }) => `${visit}${yearly}`).join()}`;
    const known = classes.get(key);
    if (known === undefined) classes.set(key, { station, services, count: 1 });
    else known.count += 1;
  }
  for (const { station, services, count } of classes.values())
    noteClass(station, services, count, bounds, to, books);
  return bounds;
}

interface Service {
  readonly visit: number;
  readonly day: Day;
  readonly yearly: boolean;
}

function chainKey(chain: VisitChain | null): string {
  if (chain === null) return '';
  const { earliest, target, latest } = chain.window;
  return `${chain.work} ${earliest} ${target} ${latest} ${chain.next?.work ?? ''}`;
}

/** A chain with the visit that opened its window; null = open since before the horizon. */
interface Running {
  readonly chain: VisitChain;
  readonly since: number | null;
}

function noteClass(
  station: VisitStation,
  services: readonly Service[],
  count: number,
  bounds: Bounds,
  to: Day,
  books: WindowBooks,
): void {
  let look: Running | null = station.look === null ? null : { chain: station.look, since: null };
  let yearly: Running | null = station.yearly === null ? null : { chain: station.yearly, since: null };
  for (const service of services) {
    const aim = service.yearly ? yearly : look;
    if (look !== null) noteServed(look, service, !service.yearly, bounds, books);
    if (service.yearly && yearly !== null) noteServed(yearly, service, true, bounds, books);
    if (aim !== null) {
      const aims = bounds.aims[service.visit];
      aims?.set(aim.chain.window.target, (aims.get(aim.chain.window.target) ?? 0) + count);
    }
    look = follow(look, service, books);
    if (service.yearly) yearly = follow(yearly, service, books);
  }
  for (const running of [look, yearly]) {
    if (running === null || running.since === null || running.chain.next === null) continue;
    if (running.chain.window.latest > to) bounds.tails[running.since]?.push(books(running.chain.next.rule));
  }
}

function noteServed(
  { chain, since }: Running,
  { visit, day }: Service,
  early: boolean,
  bounds: Bounds,
  books: WindowBooks,
): void {
  const { earliest, latest } = chain.window;
  const kept = day <= latest;
  if (kept) bounds.firstLate[visit] = least(bounds.firstLate[visit] ?? shift(latest, 1), shift(latest, 1));
  if (since === null || chain.next === null) {
    if (early) bounds.lowest[visit] = least(day, most(bounds.lowest[visit] ?? earliest, earliest));
    bounds.highest[visit] = most(day, least(bounds.highest[visit] ?? latest, latest));
    return;
  }
  const rule = books(chain.next.rule);
  bounds.into[visit]?.push({ visit: since, rule, early, kept });
  bounds.outOf[since]?.push({ visit, rule, early, kept });
}

function follow(running: Running | null, { visit, day }: Service, books: WindowBooks): Running | null {
  if (running === null || running.chain.next === null) return null;
  const { next } = running.chain;
  return { chain: { work: next.work, window: books(next.rule)(day), next }, since: visit };
}

function shift(day: Day | undefined, by: number): Day {
  if (day === undefined) throw new Error('every visit has its day');
  return addDays(day, by);
}
function least(a: Day, b: Day): Day {
  return a < b ? a : b;
}
function most(a: Day, b: Day): Day {
  return a > b ? a : b;
}
