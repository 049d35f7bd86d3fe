import { dayToText, type FittedInsert, type StationModel } from '@sillwatch/trade';
import {
  type ImportBook,
  type PlannedProperty,
  type PlannedStation,
  type PlannedStructure,
  stationKey,
} from './book.ts';
import type { RecordType } from './fields.ts';
import { normalise } from './guessMapping.ts';
import { writeFoundation } from './planProperty.ts';
import { readFoundation } from './propertyBody.ts';
import type { RowReader } from './reader.ts';

/** The row's station, made or changed as it says; undefined when its problems were reported. */
export function planStationRow(
  book: ImportBook,
  property: PlannedProperty,
  row: RowReader,
  records: RecordType,
): PlannedStation | undefined {
  const number = readStationNumber(row);
  const structure = number === undefined ? undefined : readStructure(property, row);
  if (number === undefined || structure === undefined) return undefined;
  const key = stationKey(structure.id, number);
  const known =
    property.stationsByKey.get(key) ?? (row.has('structure') ? undefined : findByNumber(property, number));
  if (known !== undefined) return changeStation(book, property, row, known, records);
  if (records === 'visits' && !row.has('installedOn')) {
    row.problem('stationNumber', 'no such station', { number });
    return undefined;
  }
  return addStation(book, property, row, { number, structure, key });
}

/** `12`, `#12`, `Station 12`, `A-12`, `12.0`; not `1.5`, and not `12A`, which a second `12B` would fall upon. */
function readStationNumber(row: RowReader): number | undefined {
  const text = row.needed('stationNumber');
  if (text === undefined) return undefined;
  const isFraction = /\d[.,]\d*[1-9]/.test(text);
  const digits = /(?:^|\D)(\d{1,6})(?:\.0+)?[^\p{L}\d]*$/u.exec(text)?.[1];
  const number = Number(digits);
  if (digits !== undefined && !isFraction && number >= 1 && number <= 100_000) return number;
  row.problem('stationNumber', 'no ring number');
  return undefined;
}

const LONGEST_NAME = 200;

/** The recorded structure of that name, or a new one that no entry describes yet. */
function readStructure(property: PlannedProperty, row: RowReader): PlannedStructure | undefined {
  const name = row.text('structure') || 'House';
  if (name.length > LONGEST_NAME) {
    row.problem('structure', 'long name', { most: LONGEST_NAME });
    return undefined;
  }
  const known = property.structuresByName.get(normalise(name));
  if (known !== undefined) return known;
  const id = `${property.id}-${slugOf(name)}`;
  return { id, name, foundation: property.foundation, outline: null };
}

function slugOf(name: string): string {
  return normalise(name).replaceAll(' ', '-') || 'house';
}

/** Where sheets do not name structures, numbers run on over all of them. */
function findByNumber(property: PlannedProperty, number: number): PlannedStation | undefined {
  const found = [...property.stationsByKey.values()].filter((station) => station.number === number);
  return found.length === 1 ? found[0] : undefined;
}

interface Place {
  readonly number: number;
  readonly structure: PlannedStructure;
  readonly key: string;
}

function addStation(
  book: ImportBook,
  property: PlannedProperty,
  row: RowReader,
  { number, structure, key }: Place,
): PlannedStation | undefined {
  const model = chooseModel(book, row);
  const installedOn = row.day('installedOn');
  const position = readPosition(row);
  const foundation = readFoundation(row);
  if (row.text('installedOn') === '') row.problem('installedOn', 'no day set');
  if (model === undefined || installedOn === undefined || position === undefined) return undefined;
  if (installedOn > book.context.today) {
    row.problem('installedOn', 'set in the future');
    return undefined;
  }
  const id = `${property.id}-s-${slugOf(structure.name)}-${number}`;
  const { timeZone } = property.body;
  const nameKey = normalise(structure.name);
  if (!property.structuresByName.has(nameKey)) {
    const added: PlannedStructure =
      foundation === undefined ? structure : { ...structure, foundation, foundationSaidAt: row.placeInWords };
    property.structuresByName.set(nameKey, added);
    book.writer.write(
      'structure added',
      { property: property.id, station: null, key: structure.id, timeZone },
      installedOn,
      { structure: added.id, name: added.name, foundation: added.foundation, outline: null },
    );
  } else if (!isFoundationAgreed(book, property, row)) return undefined;
  const inserts = insertsOf(model);
  const holdsBait = inserts.some(({ insert }) => insert === 'bait');
  const tag = row.text('tag') || null;
  const station: PlannedStation = {
    id,
    number,
    model,
    tag,
    position,
    installedOn,
    holdsBait,
    saidAt: row.placeInWords,
  };
  const result = book.writer.write(
    'station installed',
    { property: property.id, station: id, key: id, timeZone },
    installedOn,
    {
      structure: structure.id,
      number,
      tag,
      model: model.id,
      position,
      auxiliary: false,
      visit: null,
      inserts,
      application: null,
      ...(holdsBait ? { recordKeptElsewhere: recordIsWith(row) } : {}),
    },
  );
  if (result !== 'written') {
    row.problem('stationNumber', 'station withdrawn');
    return undefined;
  }
  property.stationsByKey.set(key, station);
  book.counts.newStations += 1;
  return station;
}

/** A station that is recorded: a new tag or place is a fact; another model or day of installation must be settled by a person. */
function changeStation(
  book: ImportBook,
  property: PlannedProperty,
  row: RowReader,
  known: PlannedStation,
  records: RecordType,
): PlannedStation | undefined {
  if (!isAgreed(book, row, known)) return undefined;
  if (records === 'stations' && !isFoundationAgreed(book, property, row)) return undefined;
  const position = row.cell('eastMetres') + row.cell('northMetres') === '' ? null : readPosition(row);
  if (position === undefined) return undefined;
  const tag = row.cell('tag');
  const isTagNew = tag !== '' && tag !== known.tag;
  const isPlaceNew =
    position !== null &&
    (known.position === null || position[0] !== known.position[0] || position[1] !== known.position[1]);
  if (!isTagNew && !isPlaceNew) {
    if (records === 'stations') book.counts.knownRows += 1;
    return known;
  }
  if (known.saidAt !== null) {
    row.problem(isTagNew ? 'tag' : 'eastMetres', 'station said otherwise', { place: known.saidAt });
    return undefined;
  }
  const subject = {
    property: property.id,
    station: known.id,
    key: known.id,
    timeZone: property.body.timeZone,
  };
  if (isTagNew) book.writer.writeChange('station tagged', subject, { tag });
  if (isPlaceNew) book.writer.writeChange('station moved', subject, { position, why: 'imported' });
  const changed: PlannedStation = {
    ...known,
    tag: isTagNew ? tag : known.tag,
    position: position ?? known.position,
    saidAt: row.placeInWords,
  };
  book.counts.changedStations += 1;
  for (const [key, station] of property.stationsByKey)
    if (station === known) property.stationsByKey.set(key, changed);
  return changed;
}

/** Whether the row's own cells say the day of installation and the model that are known. */
function isAgreed(book: ImportBook, row: RowReader, known: PlannedStation): boolean {
  const place = known.saidAt ?? row.tell.note('ledger');
  if (row.cell('installedOn') !== '') {
    const installedOn = row.day('installedOn');
    if (installedOn === undefined) return false;
    if (installedOn !== known.installedOn) {
      row.problem('installedOn', 'set another day', { place, day: dayToText(known.installedOn) });
      return false;
    }
  }
  if (row.cell('model') !== '') {
    const model = chooseModel(book, row);
    if (model === undefined) return false;
    if (model.id !== known.model.id) {
      row.problem('model', 'another model', { place, model: known.model.name });
      return false;
    }
  }
  return true;
}

/** A recorded structure's foundation may change once; false, with a problem, when rows of this import disagree. */
function isFoundationAgreed(book: ImportBook, property: PlannedProperty, row: RowReader): boolean {
  if (row.cell('foundation') === '') return true;
  const said = readFoundation(row);
  if (said === undefined) return false;
  const nameKey = normalise(row.text('structure') || 'House');
  const known = property.structuresByName.get(nameKey);
  if (known === undefined || known.foundation === said) return true;
  if (known.foundationSaidAt !== undefined) {
    row.problem('foundation', 'another foundation', {
      place: known.foundationSaidAt,
      foundation: known.foundation,
    });
    return false;
  }
  writeFoundation(book, property, nameKey, said, row.placeInWords);
  book.counts.changedProperties += 1;
  return true;
}

function chooseModel(book: ImportBook, row: RowReader): StationModel | undefined {
  const models = Object.values(book.models);
  const said = normalise(row.text('model'));
  const found = models.find((model) =>
    [model.id, model.name, model.layout].some((word) => normalise(word) === said),
  );
  if (found !== undefined) return found;
  row.problem('model', said === '' ? 'no model said' : 'no such model', {
    models: models.map((model) => model.id).join(', '),
  });
  return undefined;
}

/** null = not given; undefined = a problem was reported. */
function readPosition(row: RowReader): readonly [number, number] | null | undefined {
  if (row.text('eastMetres') === '' && row.text('northMetres') === '') return null;
  const east = row.number('eastMetres', -10_000, 10_000);
  const north = row.number('northMetres', -10_000, 10_000);
  if (east !== undefined && north !== undefined) return [east, north];
  if (row.text('eastMetres') === '' || row.text('northMetres') === '')
    row.problem('eastMetres', 'half a place on the plan');
  return undefined;
}

/** What stands in a new station of this model: monitors; bait where the model has nothing else from the first day. */
function insertsOf({ layout, slots }: StationModel): readonly FittedInsert[] {
  const insert = layout === 'always baited' ? 'bait' : 'monitor';
  return slots.filter((slot) => slot.holds.includes(insert)).map((slot) => ({ slot: slot.id, insert }));
}

/** Said of bait whose use record was never in this ledger. */
export function recordIsWith(row: RowReader): string {
  return `imported; the use record is with ${row.place}`;
}
