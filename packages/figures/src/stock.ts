import { type Counts, leastWithin } from './partsNeeded.ts';

export interface StockAsked {
  /** what is used between ordering and delivery */
  readonly overLead: Counts;
  /** what is used from one chance to order until the delivery after the next: lead time and time between orders */
  readonly overCover: Counts;
  readonly onHand: number;
  readonly onOrder: number;
  /** of `onOrder`, what comes no later than a delivery ordered today would */
  readonly comesInTime: number;
  /** sold in packs of so many, 1 or more */
  readonly packSize: number;
  /** chance of running out before the delivery that one accepts, 0 to 1 */
  readonly risk: number;
}

export interface StockAnswer {
  /** order when stock in hand and on order is at or under this */
  readonly reorderPoint: number;
  /** order up to this */
  readonly orderUpTo: number;
  /** whole packs, counted in pieces; 0 = nothing now */
  readonly orderNow: number;
  /** chance that what is in hand and comes in time is used up before a delivery ordered today; running out for a while in between is not in it */
  readonly riskNow: number;
}

/**
 * When to order and how many: base stock with exact demand (Arrow, Harris and Marschak 1951; as in textbooks of inventory). The reorder point
 * covers the lead time, the level ordered up to covers the time to the next order too, each with the chance of running out asked for.
 */
export function stockNeeded({
  overLead,
  overCover,
  onHand,
  onOrder,
  comesInTime,
  packSize,
  risk,
}: StockAsked): StockAnswer {
  if (!Number.isInteger(packSize) || packSize < 1)
    throw new RangeError(`a pack holds 1 or more, not ${packSize}`);
  const reorderPoint = leastWithin(risk, overLead);
  const orderUpTo = Math.max(reorderPoint, leastWithin(risk, overCover));
  const position = onHand + onOrder;
  const missing = orderUpTo - position;
  const isDue = missing > 0 && position <= reorderPoint;
  return {
    reorderPoint,
    orderUpTo,
    orderNow: isDue ? Math.ceil(missing / packSize) * packSize : 0,
    riskNow: chanceOver(overLead, onHand + comesInTime),
  };
}

/** Chance that the count exceeds `number`. */
export function chanceOver(counts: Counts, number: number): number {
  let above = 0;
  for (let count = counts.length - 1; count > number && count >= 0; count -= 1) above += counts[count] ?? 0;
  return Math.min(1, above);
}

/** Mean of a count. */
export function meanCount(counts: Counts): number {
  return counts.reduce((sum, chance, count) => sum + chance * count, 0);
}

/**
 * The risk of running short that balances costs: holding one piece too many against missing one (the newsvendor's critical ratio; Arrow,
 * Harris and Marschak 1951). Both more than 0, any one unit of money.
 */
export function balancedRisk(costOfOneTooMany: number, costOfOneMissing: number): number {
  if (!(costOfOneTooMany > 0) || !(costOfOneMissing > 0))
    throw new RangeError(`both costs are more than 0, not ${costOfOneTooMany} and ${costOfOneMissing}`);
  return costOfOneTooMany / (costOfOneTooMany + costOfOneMissing);
}
