/**
 * `node bench/figures/risk.ts [stations]`: fit of the hit risk, and one day's looks taken in. Goals at 400,000 stations: 60 s, 2 s.
 * Nine columns, ten looks a station, structures of 15 stations, 20 branches; drawn from a known model.
 */
import { correctSpreads, fitHazard, type HazardRows, updateHazard } from '@sillwatch/figures';

const wanted = Number(process.argv[2] ?? 400_000);
const STATIONS_EACH = 15;
const LOOKS = 10;
const COLUMNS = 9;
const BRANCHES = 20;
const TRUTH = [-4.6, 0.3, -0.2, 0.4, 0.15, 0.8, 0.5, -0.1, 0.2];
const SPREADS = [0.3, 0.9, 0.25];

const structures = Math.ceil(wanted / STATIONS_EACH);
const units = structures * STATIONS_EACH;
let state = 12_345;
const fraction = (): number => {
  state = (state + 0x6d2b79f5) >>> 0;
  let mixed = Math.imul(state ^ (state >>> 15), state | 1);
  mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
  return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
};
const normal = (): number => Math.sqrt(-2 * Math.log(1 - fraction())) * Math.cos(2 * Math.PI * fraction());

const nodes = [units, structures, BRANCHES];
const effects = nodes.map((count, level) =>
  Float64Array.from({ length: count }, () => (SPREADS[level] ?? 0) * normal()),
);
const x = new Float32Array(units * LOOKS * COLUMNS);
const hit = new Uint8Array(units * LOOKS);
for (let row = 0; row < hit.length; row += 1) {
  const unit = Math.floor(row / LOOKS);
  const structure = Math.floor(unit / STATIONS_EACH);
  let eta =
    (effects[0]?.[unit] ?? 0) + (effects[1]?.[structure] ?? 0) + (effects[2]?.[structure % BRANCHES] ?? 0);
  for (let j = 0; j < COLUMNS; j += 1) {
    // Half the columns are yes-or-no and mostly no, as neighbours' hits are.
    const value = j === 0 ? 1 : j % 2 === 0 ? normal() : fraction() < 0.1 ? 1 : 0;
    x[row * COLUMNS + j] = value;
    eta += value * (TRUTH[j] ?? 0);
  }
  hit[row] = fraction() < 1 / (1 + Math.exp(-eta)) ? 1 : 0;
}
const rows: HazardRows = {
  columns: COLUMNS,
  x,
  hit,
  rowStart: Int32Array.from({ length: units + 1 }, (_, unit) => unit * LOOKS),
  parents: [
    Int32Array.from({ length: units }, (_, unit) => Math.floor(unit / STATIONS_EACH)),
    Int32Array.from({ length: structures }, (_, structure) => structure % BRANCHES),
  ],
  nodes,
};

/** seconds of core time: on a shared machine they say more than the clock */
const coreSeconds = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};
const started = coreSeconds();
const options = { effects: 'nested', ridge: TRUTH.map((_, j) => (j === 0 ? 0 : 0.25)) } as const;
const plain = fitHazard(rows, options);
if ('refused' in plain) throw new Error(plain.refused);
const plainSeconds = coreSeconds() - started;
const fit = correctSpreads(rows, plain, options, { seed: 1 });
const fitSeconds = coreSeconds() - started;
fit.coefficients.forEach((one, j) => {
  if (j > 0 && Math.abs(one - (TRUTH[j] ?? 0)) > 0.1)
    throw new Error(`column ${j}: ${one} instead of ${TRUTH[j]}`);
});
console.log(
  `${units} stations, ${hit.length} looks, ${fit.hits} hits: fitted in ${plainSeconds.toFixed(1)} s (${plain.steps} steps), spreads corrected after ${fitSeconds.toFixed(1)} s of core time, ` +
    `converged ${plain.converged}; spreads ${plain.levels.map(({ spread }) => spread.toFixed(2)).join(', ')}, corrected ${fit.levels.map(({ spread }) => spread.toFixed(2)).join(', ')} of ${SPREADS.join(', ')}; ` +
    `memory ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB`,
);

// A working day: one station in ninety is looked at, whole structures at a time.
const touched = Array.from({ length: Math.ceil(structures / 90) }, (_, n) => n * 90);
const own = touched.flatMap((structure) =>
  Array.from({ length: STATIONS_EACH }, (_, n) => structure * STATIONS_EACH + n),
);
const begun = coreSeconds();
const part: HazardRows = {
  columns: COLUMNS,
  x: Float32Array.from(
    own.flatMap((unit) => [...x.subarray(unit * LOOKS * COLUMNS, (unit + 1) * LOOKS * COLUMNS)]),
  ),
  hit: Uint8Array.from(own.flatMap((unit) => [...hit.subarray(unit * LOOKS, (unit + 1) * LOOKS)])),
  rowStart: Int32Array.from({ length: own.length + 1 }, (_, n) => n * LOOKS),
  parents: [
    Int32Array.from(own, (_, n) => Math.floor(n / STATIONS_EACH)),
    Int32Array.from(touched, (structure) => structure % BRANCHES),
  ],
  nodes: [own.length, touched.length, BRANCHES],
};
const updated = updateHazard(fit, part, [own, touched, Array.from({ length: BRANCHES }, (_, n) => n)]);
const moved = touched.filter(
  (structure) => updated.levels[1]?.effect[structure] !== fit.levels[1]?.effect[structure],
);
console.log(
  `${own.length} stations' looks taken in: ${(coreSeconds() - begun).toFixed(2)} s, ${moved.length} structures moved`,
);
