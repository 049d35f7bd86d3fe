import { readFileSync, writeFileSync } from 'node:fs';
import {
  auditRing,
  type BlockedBy,
  checkSite,
  drawSite,
  formatLength,
  type LengthUnit,
  type Point,
  parseLength,
  proposeStations,
  type Remedy,
  type RingRules,
  type Site,
  siteFromGeoJson,
  siteToGeoJson,
  type UnguardedStretch,
  type Walk,
  walkSite,
} from '@sillwatch/ring';
import { DEMO_PROFILE } from '@sillwatch/trade';
import { type Metres, metres } from '@sillwatch/trade/units';
import { CommandError, EXIT, formatTable, type Io } from '../io.ts';

export interface RingOptions {
  readonly units?: string;
  readonly json?: boolean;
  readonly out?: string;
  /** The label's numbers, lengths as people write them. */
  readonly spacing?: string;
  readonly nearest?: string;
  readonly farthest?: string;
  readonly clearOfTreated?: string;
  readonly nearConcern?: string;
  readonly inventedRules?: boolean;
  /** walk: numbers of the stations that are due, `1,2,7` */
  readonly only?: string;
  /** walk: id of a gate or station */
  readonly from?: string;
  readonly to?: string;
  readonly seed?: string;
  /** diagram */
  readonly scale?: string;
  readonly landscape?: boolean;
  readonly contrast?: string;
  readonly wallLengths?: boolean;
}

const ACTIONS = ['propose', 'audit', 'walk', 'diagram'] as const;

/**
 * `sillwatch ring`: where stations should stand, what an existing ring leaves unguarded, the shortest walk, the diagram.
 * Reads one GeoJSON site; needs no ledger. Exit code 1 where a wall stays unguarded or a station cannot be reached.
 */
export async function runRing(io: Io, action: string, file: string, options: RingOptions): Promise<number> {
  const known = ACTIONS.find((name) => name === action);
  if (known === undefined)
    throw new CommandError(
      EXIT.usage,
      `ring knows no ${JSON.stringify(action)}`,
      `Use ${ACTIONS.join(', ')}.`,
    );
  const unit = readUnit(options.units);
  const site = readSite(file, unit);
  switch (known) {
    case 'propose':
      return propose(io, site, unit, options);
    case 'audit':
      return audit(io, site, unit, options);
    case 'walk':
      return walk(io, site, unit, options);
    case 'diagram':
      return diagram(io, site, unit, options);
  }
}

function propose(io: Io, site: Site, unit: LengthUnit, options: RingOptions): number {
  const rules = readRules(options, unit);
  const proposal = proposeStations(site, rules);
  const write = lengthWriter(unit);
  if (options.out !== undefined) {
    const stations = proposal.stations.map(({ number, at }) => ({ id: `station-${number}`, number, at }));
    writeSite(options.out, { ...site, stations }, unit, options, proposal.unguarded);
  }
  if (options.json === true) print(io, proposal);
  else
    io.out(
      `${count(proposal.stations.length)}; ${write(proposal.unguardedMetres)} of ${write(proposal.wallMetres)} of wall unguarded.\n${rulesLine(options)}\n${formatTable(
        [
          { title: 'station', of: (row) => String(row.number), alignRight: true },
          { title: 'from the wall', of: (row) => write(row.setbackMetres), alignRight: true },
          { title: 'east of origin', of: (row) => write(row.at.x), alignRight: true },
          { title: 'north of origin', of: (row) => write(row.at.y), alignRight: true },
          {
            title: 'why here',
            of: (row) => (row.reason.kind === 'ring' ? 'ring' : `near ${row.reason.concernId}`),
          },
        ],
        proposal.stations,
      )}${tellUnguarded(proposal.unguarded, write)}${proposal.concernsOutOfReach.map((concern) => `No ground near ${concern.concernId} can take a station.\n`).join('')}${CAUTION}`,
    );
  return proposal.unguarded.length > 0 || proposal.concernsOutOfReach.length > 0 ? EXIT.found : EXIT.ok;
}

function audit(io: Io, site: Site, unit: LengthUnit, options: RingOptions): number {
  needStations(site);
  const result = auditRing(site, readRules(options, unit));
  const write = lengthWriter(unit);
  const numberOf = new Map(site.stations.map((station) => [station.id, station.number]));
  if (options.out !== undefined) writeSite(options.out, site, unit, options, result.unguarded);
  if (options.json === true) print(io, result);
  else
    io.out(
      `${count(site.stations.length)}; ${write(result.unguardedMetres)} of ${write(result.wallMetres)} of wall unguarded, ${write(result.unguardableMetres)} of it whatever is done.\n${rulesLine(options)}\n${formatTable(
        [
          {
            title: 'station',
            of: (row) => String(numberOf.get(row.stationId) ?? row.stationId),
            alignRight: true,
          },
          { title: 'from the wall', of: (row) => write(row.wallMetres), alignRight: true },
          { title: 'standing', of: (row) => words(row.setback) },
          { title: 'needed', of: (row) => (row.isRedundant ? 'no' : 'yes') },
        ],
        result.stations,
      )}${tellUnguarded(result.unguarded, write)}${result.changes.length === 0 ? '' : 'To mend it, with the fewest changes:\n'}${result.changes
        .map((change) =>
          change.kind === 'add'
            ? `  add a station at ${place(change.at, write)}\n`
            : `  move station ${numberOf.get(change.stationId) ?? change.stationId} to ${place(change.to, write)}\n`,
        )
        .join(
          '',
        )}${result.concernsWithoutStation.map((id) => `No station stands near ${id}.\n`).join('')}${CAUTION}`,
    );
  const isWrong =
    result.changes.length > 0 || result.unguarded.length > 0 || result.concernsWithoutStation.length > 0;
  return isWrong ? EXIT.found : EXIT.ok;
}

function walk(io: Io, site: Site, unit: LengthUnit, options: RingOptions): number {
  needStations(site);
  const result = findWalk(site, options);
  const write = lengthWriter(unit);
  const numberOf = new Map(site.stations.map((station) => [station.id, station.number]));
  const name = (id: string | null): string => (id === null ? '-' : String(numberOf.get(id) ?? id));
  if (options.out !== undefined)
    writeSite(
      options.out,
      site,
      unit,
      options,
      [],
      result.legs.flatMap((leg) => leg.points),
    );
  if (options.json === true) print(io, result);
  else
    io.out(
      `${write(result.lengthMetres)} through ${count(result.order.length)}, ${result.isExact ? 'the shortest there is' : 'within about 1 % of the shortest'}.\n\n${formatTable(
        [
          { title: 'from', of: (leg) => name(leg.from), alignRight: true },
          { title: 'to', of: (leg) => name(leg.to), alignRight: true },
          { title: 'walk', of: (leg) => write(leg.lengthMetres), alignRight: true },
        ],
        result.legs,
      )}${result.unreachable.map((id) => `Station ${name(id)} cannot be reached on foot: is a gate missing on the drawing?\n`).join('')}`,
    );
  return result.unreachable.length > 0 || !result.endIsReachable ? EXIT.found : EXIT.ok;
}

function diagram(io: Io, site: Site, unit: LengthUnit, options: RingOptions): number {
  const svg = draw(site, unit, options, [], undefined);
  if (options.out === undefined) io.out(`${svg}\n`);
  else writeFileSync(options.out, `${svg}\n`);
  return EXIT.ok;
}

const CAUTION =
  '\nThe label in hand and the local code come before this list. Have buried utilities located before any digging.\n';

function readUnit(text: string | undefined): LengthUnit {
  if (text === undefined || text === 'ft') return 'ft';
  if (text === 'm') return 'm';
  throw new CommandError(EXIT.usage, `no unit ${JSON.stringify(text)}`, 'Use --units ft or --units m.');
}

function readSite(file: string, unit: LengthUnit): Site {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch {
    throw new CommandError(EXIT.missing, `${file} cannot be read`, 'Name a GeoJSON file of one site.');
  }
  const result = siteFromGeoJson(text);
  if (!result.ok)
    throw new CommandError(
      EXIT.usage,
      `${file} is not a site:\n${result.refusals.map(({ fault, path, found }) => `  ${path === '' ? 'the file' : path}: ${words(fault)}, found ${found === '' ? 'nothing' : found}`).join('\n')}`,
      'See docs/how-to/draw-a-site.md for what a site file holds.',
    );
  const problems = checkSite(result.site);
  if (problems.length > 0) {
    const write = lengthWriter(unit);
    throw new CommandError(
      EXIT.usage,
      `${file} cannot be used as drawn:\n${problems.map(({ fault, id, at }) => `  ${id === '' ? 'site' : id}: ${words(fault)}, at ${place(at, write)}`).join('\n')}`,
      'Mend the drawing at these places; they count from its origin.',
    );
  }
  return result.site;
}

function needStations(site: Site): void {
  if (site.stations.length === 0)
    throw new CommandError(
      EXIT.usage,
      'the site has no stations',
      'Draw them as points of kind "station", or let `sillwatch ring propose` set them: --out with-stations.geojson.',
    );
}

/** The numbers are the label's: none is assumed, unless the invented ones are asked for by name. */
function readRules(options: RingOptions, unit: LengthUnit): RingRules {
  if (options.inventedRules === true) {
    const profile = DEMO_PROFILE;
    return {
      greatestSpacingMetres: metres(profile.greatestSpacingMetres.value),
      setbackMetres: {
        nearest: metres(profile.setbackMetres.value.nearest),
        farthest: metres(profile.setbackMetres.value.farthest),
      },
      treatedSoilClearanceMetres: metres(profile.treatedSoilClearanceMetres.value),
      concernDistanceMetres: metres(profile.concernDistanceMetres.value),
    };
  }
  const read = (text: string | undefined, option: string): Metres => {
    if (text === undefined)
      throw new CommandError(
        EXIT.usage,
        `${option} is missing`,
        'Give --spacing, --nearest, --farthest, --clear-of-treated and --near-concern as the label in hand says, or --invented-rules to try it out.',
      );
    const length = parseLength(text, unit);
    if (!length.ok) throw new CommandError(EXIT.usage, `${option}: ${length.message}`, 'Mend the option.');
    return length.metres;
  };
  return {
    greatestSpacingMetres: read(options.spacing, '--spacing'),
    setbackMetres: {
      nearest: read(options.nearest, '--nearest'),
      farthest: read(options.farthest, '--farthest'),
    },
    treatedSoilClearanceMetres: read(options.clearOfTreated, '--clear-of-treated'),
    concernDistanceMetres: read(options.nearConcern, '--near-concern'),
  };
}

function rulesLine(options: RingOptions): string {
  return options.inventedRules === true ? 'Rules: the invented demo profile, not a label.\n' : '';
}

function findWalk(site: Site, options: RingOptions): Walk {
  const start = findPlace(site, options.from);
  const to = options.to ?? 'start';
  const end = to === 'start' || to === 'anywhere' ? to : findPlace(site, to);
  const seed = Number(options.seed ?? '1');
  if (!Number.isSafeInteger(seed))
    throw new CommandError(EXIT.usage, '--seed is not a whole number', 'Leave it out.');
  if (options.only === undefined) return walkSite(site, { start, end, seed });
  const wanted = options.only.split(',').map((part) => part.trim());
  const known = new Map(site.stations.map((station) => [String(station.number), station.id]));
  const missing = wanted.filter((number) => !known.has(number));
  if (missing.length > 0)
    throw new CommandError(
      EXIT.missing,
      `no station ${missing.join(', ')}`,
      'Name stations by their numbers: --only 1,2,7.',
    );
  return walkSite(site, {
    start,
    end,
    seed,
    stationIds: new Set(wanted.flatMap((number) => known.get(number) ?? [])),
  });
}

function findPlace(site: Site, id: string | undefined): Point {
  const places = [...site.gates, ...site.stations];
  const found = id === undefined ? site.gates[0] : places.find((one) => one.id === id);
  if (found !== undefined) return found.at;
  throw new CommandError(
    id === undefined ? EXIT.usage : EXIT.missing,
    id === undefined
      ? 'the site has no gate to start from'
      : `no gate or station has the id ${JSON.stringify(id)}`,
    `Name one with --from: ${places.map((one) => one.id).join(', ')}.`,
  );
}

function draw(
  site: Site,
  unit: LengthUnit,
  options: RingOptions,
  unguarded: readonly UnguardedStretch[],
  walked: readonly Point[] | undefined,
): string {
  const scale =
    options.scale === undefined || options.scale === 'fit' ? 'fit' : Number(options.scale.replace(/^1:/, ''));
  if (scale !== 'fit' && !(scale >= 1 && scale <= 100_000))
    throw new CommandError(
      EXIT.usage,
      `no scale ${JSON.stringify(options.scale)}`,
      'Use --scale 100 for 1:100, or fit.',
    );
  return drawSite(site, {
    medium: { kind: 'print', paper: options.landscape === true ? 'letter landscape' : 'letter', scale },
    contrast: options.contrast === 'high' ? 'high' : 'usual',
    units: unit,
    marks: new Map(),
    unguarded: unguarded.map((stretch) => stretch.wall),
    wallLengths: options.wallLengths === true,
    ...(walked === undefined ? {} : { walk: walked }),
  });
}

/** An `.svg` is the diagram; anything else the site itself, with its stations, as GeoJSON. */
function writeSite(
  out: string,
  site: Site,
  unit: LengthUnit,
  options: RingOptions,
  unguarded: readonly UnguardedStretch[],
  walked?: readonly Point[],
): void {
  const text = out.endsWith('.svg')
    ? draw(site, unit, options, unguarded, walked)
    : JSON.stringify(siteToGeoJson(site), null, 2);
  writeFileSync(out, `${text}\n`);
}

type WriteLength = (lengthMetres: number) => string;

function lengthWriter(unit: LengthUnit): WriteLength {
  return (lengthMetres) =>
    formatLength(
      lengthMetres,
      unit === 'ft' ? { style: 'feet and inches', partsOfInch: 1 } : { style: 'metres' },
    );
}

function place({ x, y }: Point, write: WriteLength): string {
  const east = `${write(Math.abs(x))} ${x < 0 ? 'west' : 'east'}`;
  return `${east}, ${write(Math.abs(y))} ${y < 0 ? 'south' : 'north'} of the origin`;
}

function tellUnguarded(stretches: readonly UnguardedStretch[], write: WriteLength): string {
  return stretches
    .map(
      (stretch) =>
        `Unguarded: ${write(stretch.lengthMetres)} of the wall of ${stretch.structureId}, from ${place(stretch.from, write)} to ${place(stretch.to, write)}\n  because of ${stretch.why.map(tell).join(', ') || 'the ground'}; to mend it: ${stretch.remedies.map(tell).join(', or ') || 'nothing known'}\n`,
    )
    .join('');
}

function tell(reason: BlockedBy | Remedy): string {
  return 'id' in reason ? `${words(reason.kind)} ${reason.id}` : words(reason.kind);
}

const count = (stations: number): string => `${stations} ${stations === 1 ? 'station' : 'stations'}`;

const words = (code: string): string => code.replaceAll('_', ' ');

function print(io: Io, value: unknown): void {
  io.out(`${JSON.stringify(value, null, 2)}\n`);
}
