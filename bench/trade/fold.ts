/** `node bench/trade/fold.ts`: facts folded a second on one core, in order of arrival, reversed and shuffled. Goal: a million. */
import { foldProperty } from '@sillwatch/trade';
import { makePropertyFacts, median } from './firm.ts';

const PROPERTIES = 500;
const FACTS_EACH = 1_000;
const ROUNDS = 9;

const inOrder = Array.from({ length: PROPERTIES }, (_, n) =>
  makePropertyFacts(n + 1, `property-${n}`, 20, FACTS_EACH),
);
const reversed = inOrder.map((facts) => facts.toReversed());
/** Shuffled by ids of which the last part is random: no run of facts is left in order. */
const shuffled = inOrder.map((facts) => facts.toSorted((a, b) => (a.id.slice(24) < b.id.slice(24) ? -1 : 1)));

for (const [name, book] of [
  ['in order', inOrder],
  ['reversed', reversed],
  ['shuffled', shuffled],
] as const) {
  const rates: number[] = [];
  const coreRates: number[] = [];
  let stations = 0;
  for (let round = 0; round < ROUNDS; round += 1) {
    const started = performance.now();
    const startedCpu = process.cpuUsage();
    stations = 0;
    for (const facts of book) stations += foldProperty(facts).stations.length;
    rates.push((PROPERTIES * FACTS_EACH) / ((performance.now() - started) / 1000));
    // Time on a core, the collector's threads included: what a busy shared machine does to the clock is left out.
    const { user, system } = process.cpuUsage(startedCpu);
    coreRates.push((PROPERTIES * FACTS_EACH) / ((user + system) / 1e6));
  }
  if (stations !== PROPERTIES * 20) throw new Error(`folded ${stations} stations`);
  const millions = (rate: number): string => (rate / 1e6).toFixed(2);
  console.log(
    `${name}: median ${millions(median(coreRates))} million facts a second of core time, ` +
      `${millions(median(rates))} by the clock (best ${millions(Math.max(...rates))})`,
  );
}
