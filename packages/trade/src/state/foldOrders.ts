import type { AnyFact, FactBodies } from '../facts/fact.ts';
import type { PartsOrderedBody } from '../facts/officeBodies.ts';
import { resolveFacts, type StandingFact } from '../facts/resolve.ts';
import type { Day } from '../units/index.ts';
import { compareText } from '../units/text.ts';

/** The facts that `foldOrders` reads; corrections of them belong to it too. */
export const ORDER_KINDS = ['parts ordered', 'stock received', 'order cancelled'] as const;
type OrderKind = (typeof ORDER_KINDS)[number];
type OrderFact = {
  readonly [K in OrderKind]: StandingFact & { readonly kind: K; readonly body: FactBodies[K] };
}[OrderKind];

/** One order, with what became of it. */
export interface OrderState extends PartsOrderedBody {
  /** Id of the entry that recorded it, for who corrects it. */
  readonly fact: string;
  /** Pieces that came in all, and the day of the latest; more than `count` where too many came. */
  readonly came: number;
  readonly lastCameOn: Day | null;
  /** Pieces that are still to come; 0 when all came or it was cancelled. */
  readonly open: number;
  /** Why what had not come will not; null = not cancelled. */
  readonly cancelled: string | null;
}

function isOrderFact(one: StandingFact): one is OrderFact {
  return ORDER_KINDS.some((kind) => kind === one.kind);
}

/**
 * Orders as they stand, those expected first on top. What came may be known before its order (two desks, one without a line): it counts as
 * soon as both are there. Another part than was ordered is stock like any other, and leaves the order as it was.
 */
export function foldOrders(facts: Iterable<AnyFact>): readonly OrderState[] {
  const ordered = new Map<string, { readonly fact: string; readonly body: PartsOrderedBody }>();
  const receipts = new Map<string, { readonly part: string; readonly count: number; readonly day: Day }[]>();
  const cancelled = new Map<string, string>();
  for (const one of resolveFacts(facts).standing) {
    if (!isOrderFact(one)) continue;
    switch (one.kind) {
      case 'parts ordered':
        ordered.set(one.body.order, { fact: one.fact.id, body: one.body });
        break;
      case 'stock received': {
        const { order, part, count } = one.body;
        if (order === undefined) break;
        const known = receipts.get(order);
        const came = { part, count, day: one.when.day };
        if (known === undefined) receipts.set(order, [came]);
        else known.push(came);
        break;
      }
      case 'order cancelled':
        cancelled.set(one.body.order, one.body.why);
        break;
    }
  }
  return [...ordered.values()]
    .map(({ fact, body }): OrderState => {
      const own = (receipts.get(body.order) ?? []).filter(({ part }) => part === body.part);
      const came = own.reduce((sum, { count }) => sum + count, 0);
      const why = cancelled.get(body.order) ?? null;
      return {
        ...body,
        fact,
        came,
        lastCameOn: own.at(-1)?.day ?? null,
        open: why === null ? Math.max(0, body.count - came) : 0,
        cancelled: why,
      };
    })
    .sort((a, b) => compareText(a.expectedOn, b.expectedOn) || compareText(a.order, b.order));
}
