/** One observation of a group: a value and how much it counts (the exposure behind it, more than 0). */
export interface Weighed {
  readonly value: number;
  readonly weight: number;
}

export interface CredibilityGroup {
  readonly weight: number;
  /** the group's own mean, by weight */
  readonly own: number;
  /** share of its own mean in the estimate, 0 to 1 */
  readonly credibility: number;
  /** own mean drawn towards the common one */
  readonly estimate: number;
  /** variance of the group's true mean given its data */
  readonly variance: number;
}

export interface Credibility {
  /** mean of groups, each by its credibility; of all data where groups do not differ */
  readonly common: number;
  /** variance of one observation of weight 1 about its group's mean */
  readonly within: number;
  /** variance of groups' true means; 0 where the data show no difference */
  readonly between: number;
  readonly groups: readonly CredibilityGroup[];
}

/**
 * Means of groups drawn towards the common mean as far as each group's own data are too few to stand alone: empirical Bayes
 * with weights, linear in the data (Bühlmann and Straub 1970, Mitt. VSVM 70, 111-133; unbiased moment estimators). A
 * group without data gets the common mean. Undefined without data that repeat in some group: nothing tells
 * differences between groups from noise within them.
 */
export function credibility(groups: readonly (readonly Weighed[])[]): Credibility | undefined {
  let weightInAll = 0;
  let sumInAll = 0;
  let squares = 0;
  let degrees = 0;
  let filled = 0;
  const sums = groups.map((group) => {
    let weight = 0;
    let sum = 0;
    for (const one of group) {
      if (!(one.weight > 0) || !Number.isFinite(one.weight) || !Number.isFinite(one.value))
        throw new RangeError(
          `a weight is more than 0 and a value is a number, not ${one.weight}, ${one.value}`,
        );
      weight += one.weight;
      sum += one.weight * one.value;
    }
    const own = weight === 0 ? 0 : sum / weight;
    for (const one of group) squares += one.weight * (one.value - own) ** 2;
    if (group.length > 0) {
      degrees += group.length - 1;
      filled += 1;
    }
    weightInAll += weight;
    sumInAll += sum;
    return { weight, own };
  });
  if (degrees === 0) return undefined;
  const within = squares / degrees;
  const mean = sumInAll / weightInAll;
  const between = betweenVariance(sums, mean, within, weightInAll, filled);
  const shares = sums.map(({ weight }) => (between === 0 ? 0 : weight / (weight + within / between)));
  const shareInAll = shares.reduce((sum, share) => sum + share, 0);
  const common =
    shareInAll === 0
      ? mean
      : sums.reduce((sum, { own }, index) => sum + (shares[index] ?? 0) * own, 0) / shareInAll;
  return {
    common,
    within,
    between,
    groups: sums.map(({ weight, own }, index) => {
      const share = shares[index] ?? 0;
      const estimate = share * own + (1 - share) * common;
      return {
        weight,
        own: weight === 0 ? common : own,
        credibility: share,
        estimate,
        variance: (1 - share) * between,
      };
    }),
  };
}

function betweenVariance(
  sums: readonly { readonly weight: number; readonly own: number }[],
  mean: number,
  within: number,
  weightInAll: number,
  filled: number,
): number {
  let spread = 0;
  let squaredWeights = 0;
  for (const { weight, own } of sums) {
    spread += weight * (own - mean) ** 2;
    squaredWeights += weight * weight;
  }
  const divisor = weightInAll - squaredWeights / weightInAll;
  // Moments may come out under 0, where groups differ less than chance would make them.
  return divisor <= 0 ? 0 : Math.max(0, (spread - (filled - 1) * within) / divisor);
}
