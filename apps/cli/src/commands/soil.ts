import { sentenceText, soilCourse, toSoilSeason } from '@sillwatch/rounds';
import type { SoilNumbers } from '@sillwatch/trade';
import { type CommonOptions, type Context, print, withLedger } from '../context.ts';
import { CommandError, EXIT, formatTable, type Io } from '../io.ts';
import { appendEntry } from '../terminal.ts';

export interface SoilOptions extends CommonOptions {
  readonly mean?: string;
  readonly amplitude?: string;
  readonly coldest?: string;
  readonly depth?: string;
  readonly diffusivity?: string;
  readonly forageFrom?: string;
  readonly source?: string;
  readonly off?: boolean;
  readonly by: string;
}

const CAUTION =
  'A liking of the planner among days that are allowed anyway: it skips no due visit and moves none out of its window.';

/** `sillwatch soil BRANCH`: when the soil is warm enough for termites to forage, by the branch's own numbers; off until they are entered. */
export async function runSoil(io: Io, branch: string, options: SoilOptions): Promise<number> {
  return withLedger(io, options, async (context) => {
    const firm = await context.ledger.getFirm(context.firm);
    const known = firm.branches[branch];
    if (known === undefined)
      throw new CommandError(
        EXIT.missing,
        `no branch ${JSON.stringify(branch)}`,
        `There are: ${Object.keys(firm.branches).join(', ') || 'none yet, see `sillwatch branch`'}.`,
      );
    const set = options.off === true ? null : readNumbers(options);
    if (set !== undefined)
      await appendEntry(context, {
        kind: 'soil season set',
        body: { branch, season: set },
        property: null,
        station: null,
        by: options.by,
        timeZone: known.timeZone,
      });
    show(context, branch, set === undefined ? (firm.soilSeasons[branch] ?? null) : set);
    return EXIT.ok;
  });
}

/** Undefined when none was given; all or nothing. */
function readNumbers(options: SoilOptions): SoilNumbers | undefined {
  const { mean, amplitude, coldest, depth, diffusivity, forageFrom, source } = options;
  const given = { mean, amplitude, coldest, depth, diffusivity, 'forage-from': forageFrom, source };
  const missing = Object.entries(given).flatMap(([name, value]) =>
    value === undefined ? [`--${name}`] : [],
  );
  if (missing.length === Object.keys(given).length) return undefined;
  if (missing.length > 0 || coldest === undefined || source === undefined)
    throw new CommandError(EXIT.usage, 'a season needs all its numbers', `Give also ${missing.join(', ')}.`);
  return {
    meanCelsius: toNumber('--mean', mean),
    amplitudeCelsius: toNumber('--amplitude', amplitude),
    coldestOn: coldest,
    depthMetres: toNumber('--depth', depth),
    diffusivityMm2PerSecond: toNumber('--diffusivity', diffusivity),
    forageFromCelsius: toNumber('--forage-from', forageFrom),
    source,
  };
}

function toNumber(name: string, text: string | undefined): number {
  const value = text === undefined || text.trim() === '' ? Number.NaN : Number(text);
  if (Number.isFinite(value)) return value;
  throw new CommandError(EXIT.usage, `${name} ${JSON.stringify(text)} is no number`, 'Write it like 14.5.');
}

function show(context: Context, branch: string, numbers: SoilNumbers | null): void {
  if (numbers === null) {
    print(
      context,
      { branch, season: null },
      () => `${branch}: off. The planner takes every day of a window as equally good.\n`,
    );
    return;
  }
  const { months, season, warmDays, says } = soilCourse(toSoilSeason(numbers));
  print(context, { branch, numbers, season, warmDays, months }, () => {
    const table = formatTable(
      [
        { title: 'month', of: ({ month }) => String(month), alignRight: true },
        { title: 'degrees C', of: ({ celsius }) => celsius.toFixed(1), alignRight: true },
        { title: 'warm enough', of: ({ forages }) => (forages ? 'yes' : '') },
      ],
      months,
    );
    return `${branch}, ${numbers.depthMetres} m down. ${sentenceText(says)}\n${CAUTION}\nSource: ${numbers.source}\n\n${table}`;
  });
}
