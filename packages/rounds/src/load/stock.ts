import { type StockAnswer, stockNeeded } from '@sillwatch/figures';
import { type OrderState, PARTS, type PartBody, type StockLine } from '@sillwatch/trade';
import { addDays, type Day, dayToText, findDay } from '@sillwatch/trade/units';
import { compareKeys } from '../figures/compareKeys.ts';
import { expectedVisits } from './expectedVisits.ts';
import { type LoadQuestion, loadFor } from './loadFor.ts';

export interface StockQuestion extends Omit<LoadQuestion, 'visits'> {
  readonly asOf: Day;
  /** the branch and the account ids of who drives its trucks: their stock counts together */
  readonly places: readonly string[];
  readonly lines: readonly StockLine[];
  /** packs and lead times, as the firm set them */
  readonly parts: Readonly<Record<string, PartBody>>;
  /** all of the firm; those to these places that have not come count */
  readonly orders: readonly OrderState[];
  /** days from one order to the next */
  readonly reviewDays: number;
  /** accepted chance of running out before a delivery */
  readonly chance: number;
}

export interface PartStock extends StockAnswer {
  readonly part: string;
  readonly name: string;
  /** pieces that can be used today: expired lots do not count */
  readonly onHand: number;
  /** pieces ordered for these places that have not come, late ones too */
  readonly onOrder: number;
  readonly expired: number;
  /** pieces that expire before the delivery after next, with the first day */
  readonly expiring: { readonly count: number; readonly firstOn: string } | null;
  readonly leadDays: number;
  readonly packSize: number;
  readonly expectedOverLead: number;
  /** places that have never counted it */
  readonly neverCounted: readonly string[];
}

/** An order of which something is still to come. */
export interface OpenOrder extends Omit<OrderState, 'lastCameOn'> {
  /** it should have come by now: ask the supplier, then cancel it or correct the day */
  readonly isLate: boolean;
}

export interface BranchStock {
  /** what is still to come to these places, the first expected on top */
  readonly orders: readonly OpenOrder[];
  readonly parts: readonly PartStock[];
  /** parts that work asks for while nobody said what their lead time is: nothing can be reckoned */
  readonly withoutLeadTime: readonly {
    readonly part: string;
    readonly name: string;
    readonly expectedOverReview: number;
  }[];
}

/**
 * When a branch orders and how many, part by part: exact demand of the visits due within the lead time and within the time covered, from
 * today's states. Each lead time is reckoned once, for all parts that share it.
 */
export function branchStock(question: StockQuestion): BranchStock {
  const { asOf, parts, reviewDays, chance } = question;
  if (!Number.isInteger(reviewDays) || reviewDays < 1)
    throw new RangeError(`days from one order to the next are a whole number from 1, not ${reviewDays}`);
  const leads = [...new Set(Object.values(parts).map(({ leadDays }) => leadDays))];
  const ends = [...new Set([reviewDays, ...leads.flatMap((lead) => [lead, lead + reviewDays])])].filter(
    (days) => days > 0,
  );
  const furthest = Math.max(...ends);
  const visits = expectedVisits(question.states.values(), question.profiles, asOf, addDays(asOf, furthest));
  const loads = new Map(
    ends.map((days) => {
      const within = visits.filter(({ day }) => day < asOf + days);
      return [days, loadFor({ ...question, visits: within }, { chance })] as const;
    }),
  );
  const demand = (part: string, days: number) => loads.get(days)?.parts.find((one) => one.part === part);
  const orders = openOrders(question);
  const known = Object.values(parts).sort((a, b) => compareKeys(a.part, b.part));
  const unknown = loads.get(reviewDays)?.parts.filter(({ part }) => parts[part] === undefined) ?? [];
  return {
    orders,
    parts: known.map((part) => {
      const lead = demand(part.part, part.leadDays);
      const cover = demand(part.part, part.leadDays + reviewDays);
      const lines = question.lines.filter(
        (line) => line.part === part.part && question.places.includes(line.place),
      );
      const until = addDays(asOf, part.leadDays + reviewDays);
      const shelf = shelfOf(lines, asOf, until);
      const onOrder = piecesOf(orders, part.part, () => true);
      const isInTime = ({ expectedOn, isLate }: OpenOrder) =>
        !isLate && expectedOn <= dayToText(addDays(asOf, part.leadDays));
      return {
        part: part.part,
        name: part.name,
        ...shelf,
        onOrder,
        leadDays: part.leadDays,
        packSize: part.packSize,
        expectedOverLead: lead?.expected ?? 0,
        neverCounted: question.places.filter((place) =>
          lines.every((line) => line.place !== place || line.countedOn === null),
        ),
        ...stockNeeded({
          overLead: Float64Array.from(lead?.counts ?? [1]),
          overCover: Float64Array.from(cover?.counts ?? [1]),
          onHand: shelf.onHand,
          onOrder,
          comesInTime: piecesOf(orders, part.part, isInTime),
          packSize: part.packSize,
          risk: chance,
        }),
      };
    }),
    withoutLeadTime: unknown.map(({ part, expected }) => ({
      part,
      name: PARTS[part] ?? part,
      expectedOverReview: expected,
    })),
  };
}

function openOrders({ orders, places, asOf }: StockQuestion): readonly OpenOrder[] {
  const today = dayToText(asOf);
  return orders
    .filter(({ place, open }) => open > 0 && places.includes(place))
    .map(({ lastCameOn: _, ...order }) => ({ ...order, isLate: order.expectedOn < today }));
}

function piecesOf(
  orders: readonly OpenOrder[],
  part: string,
  isMeant: (order: OpenOrder) => boolean,
): number {
  return orders.reduce((sum, one) => sum + (one.part === part && isMeant(one) ? one.open : 0), 0);
}

function shelfOf(
  lines: readonly StockLine[],
  asOf: Day,
  until: Day,
): Pick<PartStock, 'onHand' | 'expired' | 'expiring'> {
  let onHand = 0;
  let expired = 0;
  let expiring = 0;
  let firstOn: string | null = null;
  for (const { count, usableUntil } of lines) {
    const lastDay = usableUntil === null ? undefined : findDay(usableUntil);
    if (lastDay !== undefined && lastDay < asOf) {
      expired += Math.max(0, count);
      continue;
    }
    onHand += count;
    if (lastDay === undefined || usableUntil === null || lastDay >= until || count <= 0) continue;
    expiring += count;
    if (firstOn === null || usableUntil < firstOn) firstOn = usableUntil;
  }
  return {
    onHand: Math.max(0, onHand),
    expired,
    expiring: firstOn === null ? null : { count: expiring, firstOn },
  };
}
