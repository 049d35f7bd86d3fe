/** `node bench/figures/parts.ts`: exact distribution of the parts that 5,000 stations need. Goal: 50 ms. */
import { leastWithin, meanCount, poissonBinomial } from '@sillwatch/figures';

const STATIONS = 5000;

for (const [name, most] of [
  ['rare (0 to 4 %)', 0.04],
  ['any (0 to 100 %)', 1],
] as const) {
  const chances = Float64Array.from({ length: STATIONS }, (_, n) => most * ((n * 0.618_033_988_749) % 1));
  const times: number[] = [];
  let counts = poissonBinomial(chances);
  for (let round = 0; round < 21; round += 1) {
    const started = performance.now();
    counts = poissonBinomial(chances);
    times.push(performance.now() - started);
  }
  const mean = chances.reduce((sum, chance) => sum + chance, 0);
  if (Math.abs(meanCount(counts) - mean) > 1e-6)
    throw new Error('the mean of the sum is not the sum of the means');
  times.sort((a, b) => a - b);
  console.log(
    `${name}: median ${times[10]?.toFixed(1)} ms, slowest ${times[20]?.toFixed(1)} ms; expected ${mean.toFixed(0)}, at 1 % take ${leastWithin(0.01, counts)}`,
  );
}
