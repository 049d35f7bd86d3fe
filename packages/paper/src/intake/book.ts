import type { Day, Foundation, PropertyBody, PropertyState, StationModel } from '@sillwatch/trade';
import type { Field } from './fields.ts';
import { normalise } from './guessMapping.ts';
import type { ImportContext, ImportSummary } from './planImport.ts';
import type { RowReader } from './reader.ts';
import { type FactWriter, shortDigest } from './writer.ts';

export type Counts = { -readonly [K in keyof Omit<ImportSummary, 'rows'>]: ImportSummary[K] };

/** A property while files are read: as recorded, and as the rows before said. */
export interface PlannedProperty {
  readonly id: string;
  body: PropertyBody;
  /** The number that rows of this import gave it; null = none did. */
  number: string | null;
  readonly structuresByName: Map<string, PlannedStructure>;
  readonly stationsByKey: Map<string, PlannedStation>;
  /** What the property's own row says of the foundation, for structures that no sheet describes. */
  foundation: Foundation;
  /** What rows of this import said of it, and where: two rows that contradict each other are a problem. */
  readonly said: Map<Field, { readonly text: string; readonly place: string }>;
  /** Rows that say word for word the same are looked at once. */
  lastSaid: string;
}

export interface PlannedStructure {
  readonly id: string;
  readonly name: string;
  readonly foundation: Foundation;
  readonly outline: readonly (readonly [number, number])[] | null;
  /** The row of this import that the foundation is from; absent = the ledger. */
  readonly foundationSaidAt?: string;
}

export interface PlannedStation {
  readonly id: string;
  readonly number: number;
  readonly model: StationModel;
  readonly tag: string | null;
  readonly position: readonly [number, number] | null;
  readonly installedOn: Day;
  /** True when the ledger has bait in it. */
  readonly holdsBait: boolean;
  /** The row of this import that described it; null = none did. */
  readonly saidAt: string | null;
}

/** Everything that the rows of an import share. */
export interface ImportBook {
  readonly writer: FactWriter;
  readonly context: ImportContext;
  readonly models: Readonly<Record<string, StationModel>>;
  readonly counts: Counts;
  readonly byId: Map<string, PlannedProperty>;
  readonly byKey: Map<string, Set<PlannedProperty>>;
  /** A property whose own row has a problem: the rows that lean on it would only repeat it. */
  readonly failed: Set<string>;
  /** Visits by id and technician: one is closed once, after all of its rows. */
  readonly closings: Map<string, PlannedClosing>;
  /** Stations whose bait the rows speak of; see `checkBait`. */
  readonly baitById: Map<string, SeenBait>;
}

export interface PlannedClosing {
  readonly row: RowReader;
  readonly property: PlannedProperty;
  readonly visit: string;
  readonly day: Day;
  readonly technician: string;
  isYearly: boolean;
  licence: string;
}

export interface SeenBait {
  readonly firstRow: RowReader;
  wasPutIn: boolean;
}

export function createBook(
  context: ImportContext,
  models: Readonly<Record<string, StationModel>>,
  writer: FactWriter,
): ImportBook {
  const book: ImportBook = {
    writer,
    context,
    models,
    counts: {
      newProperties: 0,
      changedProperties: 0,
      newStations: 0,
      changedStations: 0,
      newLooks: 0,
      knownRows: 0,
    },
    byId: new Map(),
    byKey: new Map(),
    failed: new Set(),
    closings: new Map(),
    baitById: new Map(),
  };
  for (const state of context.existing)
    if (state.body !== null) remember(book, toPlanned(state, state.body, models));
  return book;
}

export function remember(book: ImportBook, property: PlannedProperty): void {
  book.byId.set(property.id, property);
  const { name, address } = property.body;
  // By name alone too, for sheets that have no address.
  for (const key of [keyOf(name, address.street, address.postcode), keyOf(name, '', '')]) {
    const known = book.byKey.get(key);
    if (known === undefined) book.byKey.set(key, new Set([property]));
    else known.add(property);
  }
}

export function keyOf(name: string, street: string, postcode: string): string {
  return `${normalise(name)}\n${normalise(street)}\n${normalise(postcode)}`;
}

/** The id that a property gets from its number, or from its name, street and postcode. */
export function idFrom(firm: string, key: string): string {
  return `p-${shortDigest(`${firm}\n${key}`)}`;
}

export function stationKey(structure: string, number: number): string {
  return `${structure}\n${number}`;
}

function toPlanned(
  state: PropertyState,
  body: PropertyBody,
  models: Readonly<Record<string, StationModel>>,
): PlannedProperty {
  const stationsByKey = new Map<string, PlannedStation>();
  // A number may have gone to a newer station: the one in service counts.
  for (const station of state.stations.toSorted((a, b) => Number(a.inService) - Number(b.inService))) {
    const model = models[station.model];
    if (model === undefined) continue;
    const { station: id, number, tag, position, installedOn } = station;
    const holdsBait = station.baitedOn !== null;
    stationsByKey.set(stationKey(station.structure, number), {
      id,
      number,
      tag,
      position,
      installedOn,
      model,
      holdsBait,
      saidAt: null,
    });
  }
  return {
    id: state.property,
    body,
    number: null,
    structuresByName: new Map(
      state.structures.map(({ structure: id, name, foundation, outline }) => [
        normalise(name),
        { id, name, foundation, outline },
      ]),
    ),
    stationsByKey,
    foundation: 'unknown',
    said: new Map(),
    lastSaid: '',
  };
}
