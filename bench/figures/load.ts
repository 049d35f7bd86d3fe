/**
 * `node bench/figures/load.ts [rounds] [chance]`: loads of past rounds of the demo firm, many firms of 120 properties: chances learned from the
 * facts before each quarter only, then held against what the rounds used. Promise: each part runs out at most in `chance` of the rounds.
 * Two bands: rounds taken for independent, and firms, as the rounds of one firm share what was learned of it.
 * Beside it: the same load for every truck (what 19 of 20 rounds of the year before used at most), and last year's average, rounded up.
 */
import { getDay } from '@sillwatch/trade/units';
import { type TriedRound, tryLoads } from '../../packages/rounds/test/support/loadTrial.ts';

const wanted = Number(process.argv[2] ?? 10_000);
const chance = Number(process.argv[3] ?? 0.05);
const today = getDay('2026-11-25');
const YEAR_MONTHS = 12;
const TRIAL_MONTHS = 30;

interface Cells {
  rounds: number;
  short: number;
  promised: number;
  variance: number;
  /** by firm: rounds that ran out beyond those promised */
  readonly beyond: Map<number, number>;
}
const cells = new Map<string, Cells>();
const policies = new Map(
  ['by station', 'same for every truck', "last year's average"].map((name) => [
    name,
    { carried: 0, used: 0, shortCells: 0, cells: 0, shortRounds: 0, rounds: 0 },
  ]),
);
const get = <K, V>(map: ReadonlyMap<K, V>, key: K): V => {
  const value = map.get(key);
  if (value === undefined) throw new Error(`nothing under ${String(key)}`);
  return value;
};

let rounds = 0;
for (let seed = 101; rounds < wanted; seed += 1) {
  const tried = tryLoads({
    seed,
    properties: 120,
    today,
    fromMonthsAgo: TRIAL_MONTHS,
    step: 3,
    visitsInRound: 4,
    chance,
  }).slice(0, wanted - rounds);
  rounds += tried.length;
  for (const { load, used } of tried) {
    for (const { part, take, chanceShort } of load.parts) {
      const cell = cells.get(part) ?? { rounds: 0, short: 0, promised: 0, variance: 0, beyond: new Map() };
      cells.set(part, cell);
      cell.rounds += 1;
      cell.promised += chanceShort;
      cell.variance += chanceShort * (1 - chanceShort);
      const isShort = (used.get(part) ?? 0) > take;
      if (isShort) cell.short += 1;
      cell.beyond.set(seed, (cell.beyond.get(seed) ?? 0) + (isShort ? 1 : 0) - chanceShort);
    }
  }
  compare(tried);
  console.error(`seed ${seed}: ${rounds} rounds`);
}

function compare(tried: readonly TriedRound[]): void {
  const split = today - Math.round(((TRIAL_MONTHS - YEAR_MONTHS) * 365.25) / 12);
  const before = tried.filter(({ day }) => day < split);
  const after = tried.filter(({ day }) => day >= split);
  const parts = [...new Set(tried.flatMap(({ load }) => load.parts.map(({ part }) => part)))];
  const uses = new Map(
    parts.map((part) => [part, before.map(({ used }) => used.get(part) ?? 0).sort((a, b) => a - b)]),
  );
  const same = (part: string): number => {
    const list = get(uses, part);
    return list[Math.ceil((1 - chance) * list.length) - 1] ?? 0;
  };
  const average = (part: string): number => {
    const list = get(uses, part);
    return Math.ceil(list.reduce((sum, one) => sum + one, 0) / Math.max(1, list.length));
  };
  for (const { load, used } of after) {
    const take = new Map(load.parts.map((one) => [one.part, one.take]));
    for (const [name, of] of [
      ['by station', (part: string) => take.get(part) ?? 0],
      ['same for every truck', same],
      ["last year's average", average],
    ] as const) {
      const policy = get(policies, name);
      let isShort = false;
      for (const part of parts) {
        const count = used.get(part) ?? 0;
        policy.carried += of(part);
        policy.used += count;
        policy.cells += 1;
        if (count <= of(part)) continue;
        policy.shortCells += 1;
        isShort = true;
      }
      policy.rounds += 1;
      if (isShort) policy.shortRounds += 1;
    }
  }
}

console.log(`${rounds} rounds of 4 visits, accepted chance ${chance}`);
console.log('| part | rounds | ran out | promised | 99 % band of the promise | the same, firms as units |');
console.log('| --- | --- | --- | --- | --- | --- |');
for (const [part, { rounds: all, short, promised, variance, beyond }] of [...cells].sort(([a], [b]) =>
  a < b ? -1 : 1,
)) {
  const reach = 2.576 * Math.sqrt(variance);
  const reachOfFirms = 2.797 * firmSpread([...beyond.values()]);
  const share = (count: number): string => `${((100 * Math.max(0, count)) / all).toFixed(2)} %`;
  console.log(
    `| ${part} | ${all} | ${share(short)} | ${share(promised)} | ${share(promised - reach)} to ${share(promised + reach)} | ${share(promised - reachOfFirms)} to ${share(promised + reachOfFirms)} |`,
  );
}
console.log(
  '| load | parts carried a round | used a round | part and round run out | rounds with any run-out |',
);
console.log('| --- | --- | --- | --- | --- |');
for (const [name, of] of policies)
  console.log(
    `| ${name} | ${(of.carried / of.rounds).toFixed(1)} | ${(of.used / of.rounds).toFixed(1)} | ${((100 * of.shortCells) / of.cells).toFixed(2)} % | ${((100 * of.shortRounds) / of.rounds).toFixed(1)} % |`,
  );

/** Standard deviation of the sum over firms; 2.797 above is Student's 99.5 % point at 24 degrees of freedom, for 25 firms. */
function firmSpread(sums: readonly number[]): number {
  const mean = sums.reduce((total, one) => total + one, 0) / sums.length;
  const squares = sums.reduce((total, one) => total + (one - mean) ** 2, 0);
  return Math.sqrt((squares * sums.length) / Math.max(1, sums.length - 1));
}
