import { describe, expect, it } from 'vitest';
import {
  binomialLimits,
  compareRates,
  exactBinomial,
  exactPoisson,
  fitHazard,
  kaplanMeier,
  logRankGroups,
  medianInterval,
  poissonLimits,
  restrictedMeanWithError,
  type Watched,
} from '../src/index.ts';
import { drawWorld } from './support/hazardWorld.ts';
import { isRHere, runR } from './support/rscript.ts';

// Reason: R comes with tools/bootstrap.mjs on Debian only; elsewhere there is nothing to compare with. Until 2027-11-25.
const here = isRHere();
if (!here) console.warn('R with survival is not installed: the checks against it are left out');

type Found = ReadonlyMap<string, readonly number[]>;
const get = (found: Found, name: string): readonly number[] => {
  const numbers = found.get(name);
  if (numbers === undefined) throw new Error(`R said nothing of ${name}`);
  return numbers;
};

/** Groups of a data set of R's survival package, as R read it. */
function groupsOf(found: Found): readonly (readonly Watched[])[] {
  const group = get(found, 'group');
  const event = get(found, 'event');
  const groups: Watched[][] = [];
  get(found, 'time').forEach((time, index) => {
    const of = (group[index] ?? 1) - 1;
    groups[of] ??= [];
    groups[of].push({ time, event: event[index] === 1 });
  });
  return groups;
}

const SURVIVAL = `
fit <- survfit(Surv(time, event) ~ 1, data = d, conf.type = "log-log")
s <- summary(fit)
say("time", d$time); say("event", d$event); say("group", d$group)
say("steps", s$time); say("surv", s$surv); say("se", s$std.err); say("lower", s$lower); say("upper", s$upper)
q <- quantile(fit, 0.5)
say("median", c(q$quantile, q$lower, q$upper))
say("rmean", summary(fit, rmean = horizon)$table[c("rmean", "se(rmean)")])
t <- survdiff(Surv(time, event) ~ group, data = d)
say("chisq", t$chisq); say("obs", t$obs); say("exp", t$exp)
`;

const DATA_SETS = [
  [
    'lung, by sex',
    'd <- data.frame(time = lung$time, event = lung$status - 1, group = lung$sex); horizon <- 700',
  ],
  [
    'veteran, by cell type',
    'd <- data.frame(time = veteran$time, event = veteran$status, group = as.integer(veteran$celltype)); horizon <- 300',
  ],
  [
    'leukemia, by maintenance',
    'd <- data.frame(time = leukemia$time, event = leukemia$status, group = as.integer(leukemia$x)); horizon <- 60',
  ],
  [
    'Freireich’s remission times, 6-MP and placebo',
    `d <- data.frame(
      time = c(6,6,6,6,7,9,10,10,11,13,16,17,19,20,22,23,25,32,32,34,35,1,1,2,2,3,4,4,5,5,8,8,8,8,11,11,12,12,15,17,22,23),
      event = c(1,1,1,0,1,0,1,0,0,1,1,0,0,0,1,1,0,0,0,0,0,rep(1,21)), group = rep(1:2, each = 21)); horizon <- 20`,
  ],
] as const;

describe.skipIf(!here)('against R’s survival, live', () => {
  it.each(DATA_SETS)('%s', (_, data) => {
    const found = runR(data + SURVIVAL);
    const groups = groupsOf(found);
    const curve = kaplanMeier(groups.flat(), 0.95);
    if (curve === undefined) throw new Error('no curve');
    expect(curve.steps.map((step) => step.time)).toEqual(get(found, 'steps'));
    curve.steps.forEach((step, index) => {
      expect(step.survival).toBeCloseTo(get(found, 'surv')[index] ?? -1, 10);
      if (step.survival === 0) return;
      expect(step.standardError).toBeCloseTo(get(found, 'se')[index] ?? -1, 10);
      expect(step.interval?.lower).toBeCloseTo(get(found, 'lower')[index] ?? -1, 8);
      expect(step.interval?.upper).toBeCloseTo(get(found, 'upper')[index] ?? -1, 8);
    });
    const [median, lower, upper] = get(found, 'median');
    expect(curve.median).toBe(median);
    expect(medianInterval(curve)).toEqual({ lower, upper });
    const horizon = Number(/horizon <- (\d+)/.exec(data)?.[1]);
    const mean = restrictedMeanWithError(curve, horizon);
    const [rmean = -1, error = -1] = get(found, 'rmean');
    expect(mean.mean).toBeCloseTo(rmean, 8);
    expect(mean.standardError).toBeCloseTo(error, 8);
    const test = logRankGroups(groups);
    expect(test?.chiSquare).toBeCloseTo(get(found, 'chisq')[0] ?? -1, 8);
    expect(test?.degrees).toBe(groups.length - 1);
    test?.expected.forEach((one, group) => {
      expect(one).toBeCloseTo(get(found, 'exp')[group] ?? -1, 8);
    });
    expect(test?.observed).toEqual(get(found, 'obs'));
  });

  it('logistic regression of hits in discrete time equals glm: coefficients, standard errors, log-likelihood', () => {
    const coefficients = [-2.5, 0.7, -0.4, 0.2];
    const { rows } = drawWorld(11, {
      branches: 1,
      structures: 20,
      stations: 10,
      looks: 15,
      coefficients,
      spreads: [0, 0, 0],
    });
    const lines = Array.from(rows.hit, (hit, row) => [
      hit,
      ...rows.x.subarray(row * rows.columns, (row + 1) * rows.columns),
    ]);
    const found = runR(
      `d <- read.csv(file("stdin"), header = FALSE)
       fit <- glm(V1 ~ V3 + V4 + V5, family = binomial, data = d, epsilon = 1e-14)
       say("coef", coef(fit)); say("se", sqrt(diag(vcov(fit)))); say("loglik", logLik(fit))`,
      lines.map((line) => line.join(',')).join('\n'),
    );
    const fit = fitHazard(rows, { effects: 'none', ridge: [0, 0, 0, 0] });
    if ('refused' in fit) throw new Error(fit.refused);
    expect(fit.converged).toBe(true);
    coefficients.forEach((_, j) => {
      expect(fit.coefficients[j]).toBeCloseTo(get(found, 'coef')[j] ?? -99, 8);
      expect(Math.sqrt(fit.covariance[j * 4 + j] ?? 0)).toBeCloseTo(get(found, 'se')[j] ?? -99, 7);
    });
    expect(fit.logLikelihood).toBeCloseTo(get(found, 'loglik')[0] ?? -1, 6);
  });

  it('exact intervals equal binom.test and poisson.test', () => {
    const found = runR(`
      say("b1", binom.test(4, 20, conf.level = 0.9)$conf.int); say("b2", binom.test(0, 37)$conf.int)
      say("b3", binom.test(613, 700, conf.level = 0.99)$conf.int)
      say("p1", poisson.test(7, 120)$conf.int); say("p2", poisson.test(0, 5)$conf.int)
      say("p3", poisson.test(412, 10, conf.level = 0.9)$conf.int)
      say("q", c(2 * pbinom(18, 49, 760 / 1660), 2 * pbinom(17, 49, 760 / 1660, lower.tail = FALSE)))
      say("f", c(qbinom(0.025, 400, 0.07), qbinom(0.975, 400, 0.07), qpois(0.025, 60), qpois(0.975, 60)))
      say("r1", poisson.test(c(31, 18), c(900, 760))$conf.int); say("r2", poisson.test(c(0, 6), c(100, 120))$conf.int)`);
    const same = (name: string, interval: { lower: number; upper: number } | undefined): void => {
      expect(interval?.lower, name).toBeCloseTo(get(found, name)[0] ?? -1, 9);
      expect(interval?.upper, name).toBeCloseTo(get(found, name)[1] ?? -1, 9);
    };
    same('b1', exactBinomial(4, 20, 0.9));
    same('b2', exactBinomial(0, 37, 0.95));
    same('b3', exactBinomial(613, 700, 0.99));
    same('p1', exactPoisson(7, 120, 0.95));
    same('p2', exactPoisson(0, 5, 0.95));
    same('p3', exactPoisson(412, 10, 0.9));
    same('r1', compareRates({ events: 31, exposure: 900 }, { events: 18, exposure: 760 }, 0.95));
    expect(compareRates({ events: 18, exposure: 760 }, { events: 31, exposure: 900 }, 0.95)?.p).toBeCloseTo(
      Math.min(1, ...get(found, 'q')),
      9,
    );
    // Funnel limits are the quantiles of the distribution, moved by less than one event so that the lines have no teeth.
    const [fewest = -9, most = -9, least = -9, highest = -9] = get(found, 'f');
    const share = binomialLimits(0.07, 400, 0.95);
    expect(Math.abs(400 * share.lower - fewest)).toBeLessThan(1);
    expect(Math.abs(400 * share.upper - most)).toBeLessThan(1);
    const ratio = poissonLimits(60, 0.95);
    expect(Math.abs(60 * ratio.lower - least)).toBeLessThan(1);
    expect(Math.abs(60 * ratio.upper - highest)).toBeLessThan(1);
    same('r2', compareRates({ events: 0, exposure: 100 }, { events: 6, exposure: 120 }, 0.95));
  });
});
