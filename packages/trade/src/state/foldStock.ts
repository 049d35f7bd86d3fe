import type { AnyFact, FactBodies } from '../facts/fact.ts';
import type { StockBody, StockMovedBody } from '../facts/officeBodies.ts';
import { compareRecorded, type Recorded } from '../facts/order.ts';
import { resolveFacts, type StandingFact } from '../facts/resolve.ts';
import type { Day } from '../units/index.ts';
import { compareText } from '../units/text.ts';

/** The facts that `foldStock` reads; `station seen` takes parts from the truck of who recorded it. */
export const STOCK_KINDS = ['stock counted', 'stock received', 'stock moved', 'station seen'] as const;
type StockKind = (typeof STOCK_KINDS)[number];
type StockFact = {
  readonly [K in StockKind]: StandingFact & { readonly kind: K; readonly body: FactBodies[K] };
}[StockKind];

type StockChange =
  | { readonly kind: 'counted' | 'received'; readonly body: StockBody }
  | { readonly kind: 'moved'; readonly body: StockMovedBody }
  | { readonly kind: 'used'; readonly by: string; readonly parts: Readonly<Record<string, number>> };

/** One change of what is held, as small as it can be kept: those of a property can be read apart from all others. */
export type StockEvent = StockChange & {
  readonly epochMs: number;
  readonly day: Day;
  readonly recorded: Recorded;
};

/** What one place holds of one part and lot. */
export interface StockLine {
  /** A branch, or the account id of who drives the truck. */
  readonly place: string;
  readonly part: string;
  /** null = no lot was named. */
  readonly lot: string | null;
  /** Below 0 when more was used than was ever counted: a count is due, nothing is hidden. */
  readonly count: number;
  readonly usableUntil: string | null;
  /** Day of the last count; null = never counted, only moved and used. */
  readonly countedOn: Day | null;
}

function isStockFact(one: StandingFact): one is StockFact {
  return STOCK_KINDS.some((kind) => kind === one.kind);
}

interface Draft {
  readonly place: string;
  readonly part: string;
  readonly lot: string | null;
  count: number;
  usableUntil: string | null;
  countedOn: Day | null;
}

/** The changes of stock that these facts tell of, corrections applied, in the order in which they happened. */
export function stockEvents(facts: Iterable<AnyFact>): readonly StockEvent[] {
  return resolveFacts(facts).standing.flatMap((one) => (isStockFact(one) ? eventsOf(one) : []));
}

function eventsOf(one: StockFact): readonly StockEvent[] {
  const { id, clock, device, seq, by } = one.fact;
  const { epochMs, day } = one.when;
  const when = { epochMs, day, recorded: { id, clock, device, seq } };
  switch (one.kind) {
    case 'stock counted':
      return [{ kind: 'counted', body: one.body, ...when }];
    case 'stock received':
      return [{ kind: 'received', body: one.body, ...when }];
    case 'stock moved':
      return [{ kind: 'moved', body: one.body, ...when }];
    case 'station seen': {
      const parts = one.body.work.partsUsed;
      return Object.keys(parts).length === 0 ? [] : [{ kind: 'used', by, parts, ...when }];
    }
  }
}

/** What each place holds, by place, part and lot; see `foldStockEvents`. */
export function foldStock(facts: Iterable<AnyFact>): readonly StockLine[] {
  return foldStockEvents(stockEvents(facts));
}

/**
 * What each place holds, by place, part and lot, from changes in any order. A count sets the line, what is received and moved adds and takes, and
 * parts used at a station come from the truck of who recorded it: from the lot that expires first, as first-expired-first-out asks.
 */
export function foldStockEvents(events: readonly StockEvent[]): readonly StockLine[] {
  /** By place and part, then by lot. */
  const lines = new Map<string, Map<string | null, Draft>>();
  const open = (place: string, part: string, lot: string | null): Draft => {
    const key = partKey(place, part);
    const lots = lines.get(key) ?? new Map<string | null, Draft>();
    lines.set(key, lots);
    const line = lots.get(lot) ?? { place, part, lot, count: 0, usableUntil: null, countedOn: null };
    lots.set(lot, line);
    return line;
  };
  for (const one of events.toSorted(compareEvents)) {
    switch (one.kind) {
      case 'counted': {
        const line = open(one.body.place, one.body.part, one.body.lot);
        line.count = one.body.count;
        line.usableUntil = one.body.usableUntil ?? line.usableUntil;
        line.countedOn = one.day;
        break;
      }
      case 'received': {
        const line = open(one.body.place, one.body.part, one.body.lot);
        line.count += one.body.count;
        line.usableUntil = one.body.usableUntil ?? line.usableUntil;
        break;
      }
      case 'moved': {
        const from = open(one.body.from, one.body.part, one.body.lot);
        const to = open(one.body.to, one.body.part, one.body.lot);
        from.count -= one.body.count;
        to.count += one.body.count;
        to.usableUntil = to.usableUntil ?? from.usableUntil;
        break;
      }
      case 'used':
        for (const [part, used] of Object.entries(one.parts))
          take([...(lines.get(partKey(one.by, part))?.values() ?? [])], used);
        break;
    }
  }
  return [...lines.values()]
    .flatMap((lots) => [...lots.values()])
    .sort(
      (a, b) =>
        compareText(a.place, b.place) || compareText(a.part, b.part) || compareText(a.lot ?? '', b.lot ?? ''),
    );
}

function compareEvents(a: StockEvent, b: StockEvent): number {
  return a.epochMs - b.epochMs || compareRecorded(a.recorded, b.recorded);
}

function partKey(place: string, part: string): string {
  return JSON.stringify([place, part]);
}

/**
 * Takes from the lots that a place holds of one part; what is left over is taken from the first. A place that keeps no
 * stock of the part is left alone: trucks that nobody counts do not run below zero.
 */
function take(held: readonly Draft[], used: number): void {
  const lots = held.toSorted((a, b) => compareText(a.usableUntil ?? '9999', b.usableUntil ?? '9999'));
  let left = used;
  for (const line of lots) {
    const taken = Math.min(left, Math.max(0, line.count));
    line.count -= taken;
    left -= taken;
  }
  const [first] = lots;
  if (first !== undefined) first.count -= left;
}
