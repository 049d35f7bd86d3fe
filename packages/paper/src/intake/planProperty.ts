import {
  type Day,
  dayToText,
  FOUNDATIONS,
  type Foundation,
  type PropertyBody,
  type PropertyState,
  type StationModel,
  type StationState,
} from '@sillwatch/trade';
import type { Field, RecordType } from './fields.ts';
import { normalise } from './guessMapping.ts';
import type { ImportContext, ImportSummary } from './planImport.ts';
import type { RowReader } from './reader.ts';
import { canonical, type FactWriter, shortDigest } from './writer.ts';

export type Counts = { -readonly [K in keyof Omit<ImportSummary, 'rows'>]: ImportSummary[K] };

/** A property while files are read: as recorded, and as the rows before said. */
export interface PlannedProperty {
  readonly id: string;
  body: PropertyBody;
  readonly structures: Set<string>;
  readonly stationsByKey: Map<string, PlannedStation>;
  /** What the property's own row says of the foundation, for structures that no sheet describes. */
  readonly foundation: Foundation;
}

export interface PlannedStation {
  readonly id: string;
  readonly number: number;
  readonly model: StationModel;
  readonly tag: string | null;
  readonly position: readonly [number, number] | null;
  readonly installedOn: Day;
}

export interface ImportBook {
  readonly writer: FactWriter;
  readonly context: ImportContext;
  readonly models: Readonly<Record<string, StationModel>>;
  readonly counts: Counts;
  /** The row's property, made or changed as it says; undefined when its problems were reported. */
  planProperty(row: RowReader, records: RecordType): PlannedProperty | undefined;
}

export function createBook(
  context: ImportContext,
  models: Readonly<Record<string, StationModel>>,
  writer: FactWriter,
): ImportBook {
  const byKey = new Map<string, PlannedProperty>();
  const byId = new Map<string, PlannedProperty>();
  // A property whose own row has a problem: the rows that lean on it would only repeat it.
  const failed = new Set<string>();
  const remember = (property: PlannedProperty): void => {
    byId.set(property.id, property);
    for (const key of keysOf(property.body)) if (!byKey.has(key)) byKey.set(key, property);
  };
  for (const state of context.existing) {
    if (state.body !== null) remember(toPlanned(state, state.body, models));
  }
  const counts: Counts = {
    newProperties: 0,
    changedProperties: 0,
    newStations: 0,
    changedStations: 0,
    newLooks: 0,
    knownRows: 0,
  };
  const book: ImportBook = { writer, context, models, counts, planProperty };
  return book;

  function planProperty(row: RowReader, records: RecordType): PlannedProperty | undefined {
    const reference = row.text('reference');
    const name = row.text('name') || row.text('customerName');
    if (reference === '' && name === '' && row.text('street') === '') {
      row.problem(
        'name',
        'nothing says which property this is',
        'Give its number, or its name, street and postcode.',
      );
      return undefined;
    }
    const id = `p-${shortDigest(`${context.firm}\n${reference === '' ? keyOf(name, row.text('street'), row.text('postcode')) : normalise(reference)}`)}`;
    const known =
      byId.get(id) ??
      byKey.get(keyOf(name, row.text('street'), row.text('postcode'))) ??
      (row.has('street') ? undefined : byKey.get(keyOf(name, '', '')));
    if (known !== undefined) {
      if (records === 'properties' || row.has('street')) changeProperty(known, row, records);
      return known;
    }
    if (failed.has(id)) return undefined;
    if (!row.has('street') && records !== 'properties') {
      row.problem(
        reference === '' ? 'name' : 'reference',
        'no such property in these files or in the ledger',
        'Import its property first, or in the same go.',
      );
      return undefined;
    }
    return addProperty(id, name, row);
  }

  function addProperty(id: string, name: string, row: RowReader): PlannedProperty | undefined {
    const body = readBody(context, name, row);
    if (body === undefined) {
      failed.add(id);
      return undefined;
    }
    const startsOn =
      row.day('agreementStart') ?? row.day('installedOn') ?? row.day('visitDate') ?? context.today;
    const property: PlannedProperty = {
      id,
      body,
      structures: new Set(),
      stationsByKey: new Map(),
      foundation: readFoundation(row),
    };
    writer.write(
      'property added',
      { property: id, station: null, key: id, timeZone: body.timeZone },
      startsOn,
      body,
    );
    counts.newProperties += 1;
    remember(property);
    return property;
  }

  function changeProperty(property: PlannedProperty, row: RowReader, records: RecordType): void {
    const said = readBody(context, row.text('name') || property.body.name, row);
    if (said === undefined) return;
    const changed = Object.fromEntries(
      Object.entries(said).filter(
        ([field, value]) =>
          isSaid(row, field) &&
          canonical(value) !== canonical(Object.entries(property.body).find(([one]) => one === field)?.[1]),
      ),
    );
    if (Object.keys(changed).length === 0) {
      if (records === 'properties') counts.knownRows += 1;
      return;
    }
    const key = `${property.id}\n${dayToText(context.today)}\n${canonical(changed)}`;
    writer.write(
      'property changed',
      { property: property.id, station: null, key, timeZone: said.timeZone },
      context.today,
      changed,
    );
    property.body = { ...property.body, ...changed };
    counts.changedProperties += 1;
  }
}

/** Which columns speak of a field of the body: what the row does not say does not change. */
const COLUMNS_OF: Readonly<Record<string, readonly Field[]>> = {
  name: ['name', 'customerName'],
  branch: ['branch'],
  address: ['street'],
  customer: ['customerName', 'email', 'phone'],
  timeZone: ['timeZone'],
  profile: ['profile'],
  agreement: ['agreementRenewal'],
  accessNotes: ['accessNotes'],
  hazards: ['hazards'],
  position: ['latitude'],
};

function isSaid(row: RowReader, field: string): boolean {
  return (COLUMNS_OF[field] ?? []).some((column) => row.has(column) && row.text(column) !== '');
}

function readBody(context: ImportContext, name: string, row: RowReader): PropertyBody | undefined {
  const street = row.needed('street');
  const branch = chooseKnown(row, 'branch', context.branches);
  const profile = chooseKnown(row, 'profile', context.profiles);
  const timeZone = readTimeZone(row);
  const startsOn = row.day('agreementStart');
  const renewsOn = row.day('agreementRenewal');
  const latitude = row.number('latitude', -90, 90);
  const longitude = row.number('longitude', -180, 180);
  if (street === undefined || branch === undefined || profile === undefined || timeZone === undefined)
    return undefined;
  if (name === '') {
    row.problem('name', 'the property has no name', 'Give a name; the customer’s will do.');
    return undefined;
  }
  return {
    name,
    branch,
    address: { street, town: row.text('town'), state: row.text('state'), postcode: row.text('postcode') },
    customer: {
      name: row.text('customerName') || name,
      email: row.text('email') || null,
      phone: row.text('phone') || null,
    },
    timeZone,
    profile,
    agreement:
      startsOn === undefined || renewsOn === undefined
        ? null
        : { startsOn: dayToText(startsOn), renewsOn: dayToText(renewsOn) },
    accessNotes: row.text('accessNotes'),
    hazards: row.text('hazards'),
    position: latitude === undefined || longitude === undefined ? null : { latitude, longitude },
  };
}

/** One of the firm's own; the only one where the row does not say. */
function chooseKnown(
  row: RowReader,
  field: 'branch' | 'profile',
  known: readonly string[],
): string | undefined {
  const said = row.text(field);
  const found = known.find((one) => normalise(one) === normalise(said));
  if (found !== undefined) return found;
  const [only, ...others] = known;
  if (said === '' && only !== undefined && others.length === 0) return only;
  if (known.length === 0)
    row.problem(field, `the firm has no ${field} yet`, `Enter the firm's ${field} first.`);
  else
    row.problem(
      field,
      said === '' ? `does not say which ${field}` : `is none of the firm's`,
      `Use one of: ${known.join(', ')}; or give a default in the mapping.`,
    );
  return undefined;
}

function readTimeZone(row: RowReader): string | undefined {
  const zone = row.needed('timeZone');
  if (zone === undefined) return undefined;
  try {
    return Temporal.ZonedDateTime.from(`2026-01-01T00:00[${zone}]`).timeZoneId;
  } catch {
    row.problem('timeZone', 'is not a time zone', 'Name an IANA zone, such as America/New_York.');
    return undefined;
  }
}

export function readFoundation(row: RowReader): Foundation {
  const word = row.word('foundation');
  return FOUNDATIONS.find((one) => one === word) ?? 'unknown';
}

function keyOf(name: string, street: string, postcode: string): string {
  return `${normalise(name)}\n${normalise(street)}\n${normalise(postcode)}`;
}

/** By name, street and postcode; and by name alone for sheets that have no address. */
function keysOf(body: PropertyBody): readonly string[] {
  return [keyOf(body.name, body.address.street, body.address.postcode), keyOf(body.name, '', '')];
}

export function stationKey(structure: string, number: number): string {
  return `${structure}\n${number}`;
}

function toPlanned(
  state: PropertyState,
  body: PropertyBody,
  models: Readonly<Record<string, StationModel>>,
): PlannedProperty {
  const stations = state.stations.flatMap((station: StationState) => {
    const model = models[station.model];
    if (model === undefined) return [];
    const { station: id, number, tag, position, installedOn } = station;
    return [
      [stationKey(station.structure, number), { id, number, tag, position, installedOn, model }] as const,
    ];
  });
  return {
    id: state.property,
    body,
    structures: new Set(state.structures.map((one) => one.structure)),
    stationsByKey: new Map(stations),
    foundation: 'unknown',
  };
}
