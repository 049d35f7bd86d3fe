/** A number (or choice) with the place it was taken from. `invented` marks what no label or code stands behind. */
export interface Sourced<T> {
  readonly value: T;
  readonly source: string;
  readonly invented: boolean;
}

/**
 * A due window as calendar months and days counted from the work that starts it: earliest <= target <= latest.
 * Months are calendar months (see addMonths), days come on top.
 */
export interface WindowRule {
  readonly earliest: { readonly months: number; readonly days: number };
  readonly target: { readonly months: number; readonly days: number };
  readonly latest: { readonly months: number; readonly days: number };
}

export interface LabelProfile {
  readonly id: string;
  readonly name: string;
  /** True while any number is invented: screens and papers say so. */
  readonly invented: boolean;
  readonly product: {
    readonly name: string;
    /** company-product or company-product-distributor, digits only */
    readonly epaRegistrationNumber: string;
    readonly activeIngredient: string;
    /** percent by weight, 0 to 100 */
    readonly activeIngredientPercent: number;
  };
  /** from installation to the first look */
  readonly firstCheck: Sourced<WindowRule>;
  /** from check to check while the station has no bait and no hit */
  readonly check: Sourced<WindowRule>;
  /** from check to check while the station holds bait or has a hit not yet clear */
  readonly baitedCheck: Sourced<WindowRule>;
  /** from each station's own last yearly service (or installation) */
  readonly yearlyService: Sourced<WindowRule>;
  /** from the day feeding was seen to have ended, where a yearly service was carried over */
  readonly carriedOverService: Sourced<WindowRule>;
  /** from the day a station was not found or blocked */
  readonly missedStation: Sourced<WindowRule>;
  /** misses in a row after which a replacement is asked for; 1 or more */
  readonly missesBeforeReplacement: Sourced<number>;
  /** add bait when the fraction left is at or under this, 0 to 1 */
  readonly addBaitAtOrUnder: Sourced<number>;
  /** grams of product in one bait insert or cup, more than 0 */
  readonly baitGramsPerInsert: Sourced<number>;
  /** bait in place and no termites: what becomes of it before the station is clear */
  readonly idleBait: Sourced<'stays' | 'renewed' | 'withdrawn'>;
  /** bait in place of a station that has become clear */
  readonly clearBait: Sourced<'stays' | 'withdrawn'>;
  /** termite-free checks in a row after which a station that was hit is clear; 1 or more */
  readonly clearAfterChecks: Sourced<number>;
  /** stations to set on each side of a hit; 0 = none */
  readonly auxiliaryStations: Sourced<number>;
  /** signs without live termites: what becomes of the monitor */
  readonly monitorWithSigns: Sourced<'kept' | 'renewed'>;
  /** ring: greatest distance between neighbouring stations, metres */
  readonly greatestSpacingMetres: Sourced<number>;
  /** ring: nearest and farthest a station may stand from the wall, metres */
  readonly setbackMetres: Sourced<{ readonly nearest: number; readonly farthest: number }>;
  /** ring: clearance from soil treated earlier, metres */
  readonly treatedSoilClearanceMetres: Sourced<number>;
  /** ring: extra stations within this distance of a point of concern, metres */
  readonly concernDistanceMetres: Sourced<number>;
}
