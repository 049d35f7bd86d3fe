import { dayToText, type FittedInsert, type StationModel } from '@sillwatch/trade';
import type { RecordType } from './fields.ts';
import { normalise } from './guessMapping.ts';
import {
  type ImportBook,
  type PlannedProperty,
  type PlannedStation,
  readFoundation,
  stationKey,
} from './planProperty.ts';
import type { RowReader } from './reader.ts';

/** The row's station, made or changed as it says; undefined when its problems were reported. */
export function planStationRow(
  book: ImportBook,
  property: PlannedProperty,
  row: RowReader,
  records: RecordType,
): PlannedStation | undefined {
  const number = readStationNumber(row);
  if (number === undefined) return undefined;
  const structureName = row.text('structure') || 'House';
  const structure = `${property.id}-${normalise(structureName).replaceAll(' ', '-') || 'house'}`;
  const key = stationKey(structure, number);
  const known =
    property.stationsByKey.get(key) ?? (row.has('structure') ? undefined : findByNumber(property, number));
  if (known !== undefined)
    return records === 'stations' ? changeStation(book, property, row, known, key) : known;
  if (records === 'visits' && !row.has('installedOn')) {
    row.problem(
      'stationNumber',
      `the property has no station ${number}`,
      'Import its stations first, or in the same go.',
    );
    return undefined;
  }
  return addStation(book, property, row, { number, structure, structureName, key });
}

function readStationNumber(row: RowReader): number | undefined {
  const text = row.needed('stationNumber');
  if (text === undefined) return undefined;
  const digits = /(\d{1,6})\D*$/.exec(text)?.[1];
  const number = Number(digits);
  if (digits !== undefined && number >= 1 && number <= 100_000) return number;
  row.problem('stationNumber', 'has no number on the ring', 'Give a whole number from 1.');
  return undefined;
}

/** Where sheets do not name structures, numbers run on over all of them. */
function findByNumber(property: PlannedProperty, number: number): PlannedStation | undefined {
  const found = [...property.stationsByKey.values()].filter((station) => station.number === number);
  return found.length === 1 ? found[0] : undefined;
}

interface Place {
  readonly number: number;
  readonly structure: string;
  readonly structureName: string;
  readonly key: string;
}

function addStation(
  book: ImportBook,
  property: PlannedProperty,
  row: RowReader,
  place: Place,
): PlannedStation | undefined {
  const model = chooseModel(book, row);
  const installedOn = row.day('installedOn');
  const position = readPosition(row);
  if (row.text('installedOn') === '')
    row.problem(
      'installedOn',
      'does not say when the station was set',
      'Give the day: due windows count from it.',
    );
  if (model === undefined || installedOn === undefined || position === undefined) return undefined;
  if (installedOn > book.context.today) {
    row.problem(
      'installedOn',
      'lies in the future',
      'Correct the day; stations are recorded once they stand.',
    );
    return undefined;
  }
  const id = `${property.id}-s-${place.key.slice(property.id.length + 1).replace('\n', '-')}`;
  const { timeZone } = property.body;
  if (!property.structures.has(place.structure)) {
    property.structures.add(place.structure);
    book.writer.write(
      'structure added',
      { property: property.id, station: null, key: place.structure, timeZone },
      installedOn,
      {
        structure: place.structure,
        name: place.structureName,
        foundation: row.has('foundation') ? readFoundation(row) : property.foundation,
        outline: null,
      },
    );
  }
  const station: PlannedStation = {
    id,
    number: place.number,
    model,
    tag: row.text('tag') || null,
    position,
    installedOn,
  };
  book.writer.write(
    'station installed',
    { property: property.id, station: id, key: id, timeZone },
    installedOn,
    {
      structure: place.structure,
      number: place.number,
      tag: station.tag,
      model: model.id,
      position,
      auxiliary: false,
      visit: null,
      inserts: monitorsOf(model),
      application: null,
    },
  );
  property.stationsByKey.set(place.key, station);
  book.counts.newStations += 1;
  return station;
}

/** A station that is recorded: a new tag or place is a fact; another model or day of installation must be settled by a person. */
function changeStation(
  book: ImportBook,
  property: PlannedProperty,
  row: RowReader,
  known: PlannedStation,
  key: string,
): PlannedStation | undefined {
  const { today } = book.context;
  const installedOn = row.day('installedOn');
  if (installedOn !== undefined && installedOn !== known.installedOn) {
    row.problem(
      'installedOn',
      `the ledger says it was set on ${dayToText(known.installedOn)}`,
      'Correct the row; or correct the entry at the station.',
    );
    return undefined;
  }
  if (row.text('model') !== '') {
    const model = chooseModel(book, row);
    if (model === undefined) return undefined;
    if (model.id !== known.model.id) {
      row.problem(
        'model',
        `the ledger says it is a ${known.model.name}`,
        'Correct the row; or record that the station was replaced.',
      );
      return undefined;
    }
  }
  const position = readPosition(row);
  if (position === undefined) return undefined;
  const tag = row.text('tag') || null;
  const subject = { property: property.id, station: known.id, timeZone: property.body.timeZone };
  let changed = known;
  if (tag !== null && tag !== known.tag) {
    book.writer.write(
      'station tagged',
      { ...subject, key: `${known.id}\n${tag}\n${dayToText(today)}` },
      today,
      { tag },
    );
    changed = { ...changed, tag };
  }
  if (
    position !== null &&
    (known.position === null || position[0] !== known.position[0] || position[1] !== known.position[1])
  ) {
    book.writer.write(
      'station moved',
      { ...subject, key: `${known.id}\n${position.join(' ')}\n${dayToText(today)}` },
      today,
      { position, why: 'imported' },
    );
    changed = { ...changed, position };
  }
  if (changed === known) book.counts.knownRows += 1;
  else book.counts.changedStations += 1;
  property.stationsByKey.set(key, changed);
  return changed;
}

function chooseModel(book: ImportBook, row: RowReader): StationModel | undefined {
  const models = Object.values(book.models);
  const said = normalise(row.text('model'));
  const found = models.find((model) =>
    [model.id, model.name, model.layout].some((word) => normalise(word) === said),
  );
  if (found !== undefined) return found;
  const names = models.map((model) => model.id).join(', ');
  if (said === '')
    row.problem(
      'model',
      'does not say which kind of station',
      `Use one of: ${names}; or give a default in the mapping.`,
    );
  else
    row.problem(
      'model',
      'is none of the firm’s station models',
      `Use one of: ${names}; or say in the mapping what it means.`,
    );
  return undefined;
}

/** null = not given; undefined = a problem was reported. */
function readPosition(row: RowReader): readonly [number, number] | null | undefined {
  if (row.text('eastMetres') === '' && row.text('northMetres') === '') return null;
  const east = row.number('eastMetres', -10_000, 10_000);
  const north = row.number('northMetres', -10_000, 10_000);
  if (east !== undefined && north !== undefined) return [east, north];
  if (row.text('eastMetres') === '' || row.text('northMetres') === '')
    row.problem('eastMetres', 'one of the two coordinates is empty', 'Give both, or neither.');
  return undefined;
}

export function monitorsOf(model: StationModel): readonly FittedInsert[] {
  return model.slots
    .filter((slot) => slot.holds.includes('monitor'))
    .map((slot) => ({ slot: slot.id, insert: 'monitor' as const }));
}
