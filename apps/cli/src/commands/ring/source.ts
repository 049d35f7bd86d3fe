import { existsSync, readFileSync, statSync } from 'node:fs';
import { checkSite, type LengthUnit, type Site, type StationMark, siteFromGeoJson } from '@sillwatch/ring';
import { siteOf, stationMarkOf } from '@sillwatch/rounds';
import {
  assessClearance,
  dueWork,
  type LabelProfile,
  type PropertyState,
  timelinessOn,
} from '@sillwatch/trade';
import { type CommonOptions, dayOrToday, getProperty, withLedger } from '../../context.ts';
import { CommandError, EXIT, type Io } from '../../io.ts';
import { lengthWriter, place, words } from './say.ts';

/** What a ring is computed from: a file's drawing, or a property's own with the state of its stations. */
export interface Source {
  readonly site: Site;
  readonly marks: ReadonlyMap<string, StationMark>;
  readonly property: PropertyState | null;
  /** null of a file, and where the firm has not entered the property's */
  readonly profile: LabelProfile | null;
  /** Stations at which work may be done today. */
  readonly due: readonly string[];
}

/** A path of a file that exists, or a name that only a file could have. */
export function isFile(what: string): boolean {
  return /\.(geo)?json$/i.test(what) || (existsSync(what) && statSync(what).isFile());
}

/** Throws CommandError that names each place of a file that is no site, or of a drawing that cannot be used. */
export function readDrawing(file: string, unit: LengthUnit): Site {
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
  return mustBeUsable(result.site, file, unit);
}

/** Throws CommandError with each fault of the drawing and its place: nothing computed from it could be trusted. */
export function mustBeUsable(site: Site, name: string, unit: LengthUnit): Site {
  const problems = checkSite(site);
  if (problems.length === 0) return site;
  const write = lengthWriter(unit);
  throw new CommandError(
    EXIT.usage,
    `${name} cannot be used as drawn:\n${problems.map(({ fault, id, at }) => `  ${id === '' ? 'site' : id}: ${words(fault)}, at ${place(at, write)}`).join('\n')}`,
    'Mend the drawing at these places; they count from its origin.',
  );
}

/**
 * The drawing of a property of the ledger, whatever is wrong with it: it must be seen and read to be mended. Throws
 * CommandError as getProperty does.
 */
export function readProperty(io: Io, id: string, options: CommonOptions): Promise<Source> {
  return withLedger(io, options, async (context) => {
    const property = await getProperty(context, id);
    const { profiles } = await context.ledger.getFirm(context.firm);
    const profile = (property.body === null ? undefined : profiles[property.body.profile]) ?? null;
    const today = dayOrToday(io, undefined, property.body?.timeZone ?? 'UTC');
    const items = profile === null ? [] : dueWork(property.stations, profile, today).items;
    return {
      site: siteOf(property),
      marks: new Map(
        property.stations.map((state) => [
          state.station,
          stationMarkOf(profile === null ? state : assessClearance(state, profile)),
        ]),
      ),
      property,
      profile,
      due: [
        ...new Set(
          items.filter((item) => timelinessOn(item, today) !== 'not yet').map(({ station }) => station),
        ),
      ],
    };
  });
}
