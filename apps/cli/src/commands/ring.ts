import { writeFileSync } from 'node:fs';
import { DIAGRAM_WORDS, type PaperLanguage, renderDiagramPdf } from '@sillwatch/paper';
import {
  auditRing,
  type BlockedBy,
  drawingToSvg,
  type LengthUnit,
  layOutSite,
  type Point,
  parseLength,
  proposeStations,
  type Remedy,
  type RingRules,
  type Site,
  type SiteDrawing,
  siteToGeoJson,
  type UnguardedStretch,
  type Walk,
  walkSite,
} from '@sillwatch/ring';
import { ringRulesOf, walkOf } from '@sillwatch/rounds';
import { DEMO_PROFILE } from '@sillwatch/trade';
import type { Metres } from '@sillwatch/trade/units';
import type { CommonOptions } from '../context.ts';
import { CommandError, EXIT, formatTable, type Io } from '../io.ts';
import { lengthWriter, place, type WriteLength, words } from './ring/say.ts';
import { isFile, mustBeUsable, readDrawing, readProperty, type Source } from './ring/source.ts';
import { type StoreOptions, storeDrawing } from './ring/store.ts';

export interface RingOptions extends CommonOptions, StoreOptions {
  readonly units?: string;
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
  /** walk: every station of the property, not only those due */
  readonly all?: boolean;
  /** walk: id of a gate or station, or `truck` */
  readonly from?: string;
  readonly to?: string;
  readonly seed?: string;
  /** diagram */
  readonly scale?: string;
  readonly landscape?: boolean;
  readonly contrast?: string;
  readonly wallLengths?: boolean;
  readonly lang?: PaperLanguage;
}

const ACTIONS = ['propose', 'audit', 'walk', 'diagram', 'store', 'read'] as const;

/**
 * `sillwatch ring`: where stations should stand, what an existing ring leaves unguarded, the shortest walk, the diagram; and
 * a drawing stored for a property and read back. Takes a GeoJSON file (no ledger needed) or a property of the ledger.
 * Exit code 1 where a wall stays unguarded or a station cannot be reached.
 */
export async function runRing(io: Io, action: string, what: string, options: RingOptions): Promise<number> {
  const known = ACTIONS.find((name) => name === action);
  if (known === undefined)
    throw new CommandError(
      EXIT.usage,
      `ring knows no ${JSON.stringify(action)}`,
      `Use ${ACTIONS.join(', ')}.`,
    );
  const unit = readUnit(options.units);
  if (known === 'store') return storeDrawing(io, readDrawing(what, unit), options);
  const source: Source = isFile(what)
    ? { site: readDrawing(what, unit), marks: new Map(), property: null, profile: null, due: [] }
    : await readProperty(io, what, options);
  if (known === 'propose' || known === 'audit') mustBeUsable(source.site, what, unit);
  switch (known) {
    case 'propose':
      return propose(io, source, unit, options);
    case 'audit':
      return audit(io, source, unit, options);
    case 'walk':
      return walk(io, source, unit, options);
    case 'diagram':
      return diagram(io, source, unit, options);
    case 'read':
      return read(io, source.site, options);
  }
}

/** The drawing as it is stored, with its stations, as GeoJSON. */
function read(io: Io, site: Site, { out }: RingOptions): number {
  const text = `${JSON.stringify(siteToGeoJson(site), null, 2)}\n`;
  if (out === undefined) io.out(text);
  else writeFileSync(out, text);
  return EXIT.ok;
}

async function propose(io: Io, source: Source, unit: LengthUnit, options: RingOptions): Promise<number> {
  const { site } = source;
  const rules = readRules(options, unit, source);
  const proposal = proposeStations(site, rules);
  const write = lengthWriter(unit);
  if (options.out !== undefined) {
    const stations = proposal.stations.map(({ number, at }) => ({ id: `station-${number}`, number, at }));
    const proposed = { ...source, site: { ...site, stations }, marks: new Map() };
    await writeSite(io, options.out, proposed, unit, options, proposal.unguarded);
  }
  if (options.json === true) print(io, proposal);
  else
    io.out(
      `${count(proposal.stations.length)}; ${write(proposal.unguardedMetres)} of ${write(proposal.wallMetres)} of wall unguarded.\n${rulesLine(options, source)}\n${formatTable(
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

async function audit(io: Io, source: Source, unit: LengthUnit, options: RingOptions): Promise<number> {
  const { site } = source;
  needStations(site);
  const result = auditRing(site, readRules(options, unit, source));
  const write = lengthWriter(unit);
  const numberOf = new Map(site.stations.map((station) => [station.id, station.number]));
  if (options.out !== undefined) await writeSite(io, options.out, source, unit, options, result.unguarded);
  if (options.json === true) print(io, result);
  else
    io.out(
      `${count(site.stations.length)}; ${write(result.unguardedMetres)} of ${write(result.wallMetres)} of wall unguarded, ${write(result.unguardableMetres)} of it whatever is done.\n${rulesLine(options, source)}\n${formatTable(
        [
          {
            title: 'station',
            of: (row) => String(numberOf.get(row.stationId) ?? row.stationId),
            alignRight: true,
          },
          { title: 'from the wall', of: (row) => write(row.wallMetres), alignRight: true },
          {
            title: 'standing',
            of: (row) => (row.concernId === undefined ? words(row.setback) : `beside ${row.concernId}`),
          },
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

async function walk(io: Io, source: Source, unit: LengthUnit, options: RingOptions): Promise<number> {
  const { site } = source;
  needStations(site);
  const result = findWalk(source, options);
  const write = lengthWriter(unit);
  const numberOf = new Map(site.stations.map((station) => [station.id, station.number]));
  const name = (id: string | null): string => (id === null ? '-' : String(numberOf.get(id) ?? id));
  if (options.out !== undefined)
    await writeSite(
      io,
      options.out,
      source,
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

async function diagram(io: Io, source: Source, unit: LengthUnit, options: RingOptions): Promise<number> {
  if (options.out === undefined) io.out(`${drawingToSvg(draw(source, unit, options, []), 'site')}\n`);
  else await writeDrawing(io, options.out, draw(source, unit, options, []), options.lang);
  return EXIT.ok;
}

const CAUTION =
  '\nThe label in hand and the local code come before this list. Have buried utilities located before any digging.\n';

function readUnit(text: string | undefined): LengthUnit {
  if (text === undefined || text === 'ft') return 'ft';
  if (text === 'm') return 'm';
  throw new CommandError(EXIT.usage, `no unit ${JSON.stringify(text)}`, 'Use --units ft or --units m.');
}

function needStations(site: Site): void {
  if (site.stations.length === 0)
    throw new CommandError(
      EXIT.usage,
      'the site has no stations',
      'Draw them as points of kind "station", or let `sillwatch ring propose` set them: --out with-stations.geojson.',
    );
}

/** The numbers are the label's: those of the call, or of the property's own profile; invented ones only when asked for by name. */
function readRules(options: RingOptions, unit: LengthUnit, { profile }: Source): RingRules {
  if (options.inventedRules === true) return ringRulesOf(DEMO_PROFILE);
  if (profile !== null && !givesRules(options)) return ringRulesOf(profile);
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

function givesRules({ spacing, nearest, farthest, clearOfTreated, nearConcern }: RingOptions): boolean {
  return [spacing, nearest, farthest, clearOfTreated, nearConcern].some((given) => given !== undefined);
}

function rulesLine(options: RingOptions, { profile }: Source): string {
  if (options.inventedRules === true) return 'Rules: the invented demo profile, not a label.\n';
  if (profile === null || givesRules(options)) return '';
  return `Rules: the label profile ${profile.name}${profile.invented ? ', which is invented' : ''}.\n`;
}

function findWalk(source: Source, options: RingOptions): Walk {
  const { site, property } = source;
  const seed = Number(options.seed ?? '1');
  if (!Number.isSafeInteger(seed))
    throw new CommandError(EXIT.usage, '--seed is not a whole number', 'Leave it out.');
  const wanted = chooseStations(source, options);
  const to = options.to ?? 'start';
  if (property !== null && options.from === undefined && (to === 'start' || to === 'anywhere')) {
    const found = walkOf(property, [...wanted], { closed: to === 'start' });
    return {
      ...found,
      unreachable: found.offWalk.filter(({ why }) => why === 'no way').map(({ station }) => station),
      endIsReachable: true,
    };
  }
  const start = findPlace(site, options.from);
  const end = to === 'start' || to === 'anywhere' ? to : findPlace(site, to);
  return walkSite(site, { start, end, seed, stationIds: wanted });
}

/** Of a file all stations, of a property those at which work may be done now, unless the call names some. */
function chooseStations({ site, property, due }: Source, options: RingOptions): ReadonlySet<string> {
  if (options.only === undefined) {
    const isAll = property === null || options.all === true;
    if (!isAll && due.length === 0)
      throw new CommandError(
        EXIT.missing,
        'no station of the property is due today',
        'Walk through all of them with --all, or through some with --only 1,2,7.',
      );
    return new Set(isAll ? site.stations.map(({ id }) => id) : due);
  }
  const wanted = options.only.split(',').map((part) => part.trim());
  const idsByNumber = Map.groupBy(site.stations, ({ number }) => String(number));
  const missing = wanted.filter((number) => !idsByNumber.has(number));
  if (missing.length > 0)
    throw new CommandError(
      EXIT.missing,
      `no station ${missing.join(', ')}`,
      'Name stations by their numbers: --only 1,2,7.',
    );
  return new Set(wanted.flatMap((number) => (idsByNumber.get(number) ?? []).map(({ id }) => id)));
}

function findPlace(site: Site, id: string | undefined): Point {
  if (site.parking !== undefined && (id === undefined || id === 'truck')) return site.parking;
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
  { site, marks }: Source,
  unit: LengthUnit,
  options: RingOptions,
  unguarded: readonly UnguardedStretch[],
  walked?: readonly Point[],
): SiteDrawing {
  const scale =
    options.scale === undefined || options.scale === 'fit' ? 'fit' : Number(options.scale.replace(/^1:/, ''));
  if (scale !== 'fit' && !(scale >= 1 && scale <= 100_000))
    throw new CommandError(
      EXIT.usage,
      `no scale ${JSON.stringify(options.scale)}`,
      'Use --scale 100 for 1:100, or fit.',
    );
  return layOutSite(site, {
    medium: { kind: 'print', paper: options.landscape === true ? 'letter landscape' : 'letter', scale },
    contrast: options.contrast === 'high' ? 'high' : 'usual',
    units: unit,
    marks,
    unguarded: unguarded.map((stretch) => stretch.wall),
    wallLengths: options.wallLengths === true,
    words: DIAGRAM_WORDS[options.lang ?? 'en-US'],
    ...(walked === undefined ? {} : { walk: walked }),
  });
}

/** An `.svg` or `.pdf` is the diagram; anything else the site itself, with its stations, as GeoJSON. */
async function writeSite(
  io: Io,
  out: string,
  source: Source,
  unit: LengthUnit,
  options: RingOptions,
  unguarded: readonly UnguardedStretch[],
  walked?: readonly Point[],
): Promise<void> {
  if (/\.(svg|pdf)$/.test(out))
    await writeDrawing(io, out, draw(source, unit, options, unguarded, walked), options.lang);
  else writeFileSync(out, `${JSON.stringify(siteToGeoJson(source.site), null, 2)}\n`);
}

async function writeDrawing(
  io: Io,
  out: string,
  drawing: SiteDrawing,
  lang: PaperLanguage = 'en-US',
): Promise<void> {
  if (!out.endsWith('.pdf')) {
    writeFileSync(out, `${drawingToSvg(drawing, 'site')}\n`);
    return;
  }
  const writtenAt = Temporal.Instant.fromEpochMilliseconds(io.now()).round('second').toString();
  writeFileSync(
    out,
    await renderDiagramPdf({
      drawing,
      lang,
      author: 'Sillwatch',
      writtenAt: writtenAt.replace('Z', '+00:00'),
    }),
  );
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

function print(io: Io, value: unknown): void {
  io.out(`${JSON.stringify(value, null, 2)}\n`);
}
