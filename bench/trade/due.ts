/** `node bench/trade/due.ts`: due work of a million stations. Goals: under 3 s, under 1 GB. */
import { DEMO_PROFILE, dueWork, foldProperty, type StationState } from '@sillwatch/trade';
import { addDays, getDay } from '@sillwatch/trade/units';
import { makePropertyFacts, median } from './firm.ts';

const STATIONS = 1_000_000;
const patterns = Array.from(
  { length: 200 },
  (_, n) => foldProperty(makePropertyFacts(n + 1, `pattern-${n}`, 20, 200)).stations,
).flat();

function* states(): Generator<StationState> {
  for (let n = 0; n < STATIONS; n += 1) {
    const pattern = patterns[n % patterns.length];
    if (pattern === undefined) throw new Error('no pattern');
    // Spread over 400 days, so that windows are not all the same few.
    const shift = n % 400;
    const { lastOpenedOn } = pattern;
    yield {
      ...pattern,
      station: `s${n}`,
      lastOpenedOn: lastOpenedOn === null ? null : addDays(lastOpenedOn, shift),
    };
  }
}

const seconds: number[] = [];
for (let round = 0; round < 5; round += 1) {
  const started = performance.now();
  const due = dueWork(states(), DEMO_PROFILE, getDay('2026-11-25'));
  seconds.push((performance.now() - started) / 1000);
  const works = due.items.length + due.held.length;
  if (works !== 2 * STATIONS) throw new Error(`expected two owed works a station, got ${works} in all`);
  // The most this process ever held, after one call: later rounds only add garbage of the earlier ones.
  if (round === 0)
    console.log(`memory at the first call: ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB`);
}
console.log(`${STATIONS} stations, ${2 * STATIONS} owed works: median ${median(seconds).toFixed(2)} s`);
