import type { Day, PropertyBody } from '@sillwatch/trade';
import { type ImportBook, idFrom, keyOf, type PlannedProperty, remember } from './book.ts';
import type { Field, RecordType } from './fields.ts';
import { normalise } from './guessMapping.ts';
import type { ImportContext } from './planImport.ts';
import { BODY_FIELDS, listCalled, readBody, readFoundation } from './propertyBody.ts';
import type { RowReader } from './reader.ts';
import { canonical } from './writer.ts';

/** The row's property, made or changed as it says; undefined when its problems were reported. */
export function planPropertyRow(
  book: ImportBook,
  row: RowReader,
  records: RecordType,
): PlannedProperty | undefined {
  const reference = row.text('reference');
  const name = row.text('name') || row.text('customerName');
  if (reference === '' && name === '' && row.text('street') === '') {
    row.problem('name', 'no property said');
    return undefined;
  }
  const key = keyOf(name, row.text('street'), row.text('postcode'));
  const id = idFrom(book.context.firm, reference === '' ? key : normalise(reference));
  if (book.failed.has(id)) return undefined;
  const found = findProperty(book, row, id, key, reference, name);
  if (found === 'problem') {
    book.failed.add(id);
    return undefined;
  }
  if (found !== undefined) {
    if (reference !== '') found.number ??= normalise(reference);
    if (records !== 'properties' && !row.has('street')) return found;
    return changeProperty(book, found, row, records) ? found : undefined;
  }
  if (!row.has('street') && records !== 'properties') {
    row.problem(reference === '' ? 'name' : 'reference', 'no such property');
    return undefined;
  }
  return addProperty(book, row, id, reference);
}

/** By number; else by name, street and postcode; else, where the row has no address, by name alone if one has it. */
function findProperty(
  book: ImportBook,
  row: RowReader,
  id: string,
  key: string,
  reference: string,
  name: string,
): PlannedProperty | 'problem' | undefined {
  const byId = book.byId.get(id);
  if (byId !== undefined) return byId;
  const candidates =
    book.byKey.get(key) ?? (row.text('street') === '' ? book.byKey.get(keyOf(name, '', '')) : undefined);
  const [first, ...others] = candidates ?? [];
  if (first === undefined) return undefined;
  if (others.length > 0) {
    row.problem('name', 'properties alike', { count: others.length + 1 });
    return 'problem';
  }
  if (reference === '' || !hasAnotherNumber(book, first, normalise(reference))) return first;
  if (first.number === null) row.problem('reference', 'another number');
  else row.problem('reference', 'another number said', { number: first.number });
  return 'problem';
}

/** An earlier import made the id from the number, where there was one. */
function hasAnotherNumber(book: ImportBook, { id, number, body }: PlannedProperty, said: string): boolean {
  if (number !== null) return number !== said;
  const unnumbered = idFrom(book.context.firm, keyOf(body.name, body.address.street, body.address.postcode));
  return /^p-[0-9a-f]{16}$/.test(id) && id !== unnumbered;
}

function addProperty(
  book: ImportBook,
  row: RowReader,
  id: string,
  reference: string,
): PlannedProperty | undefined {
  const { context, writer } = book;
  const body = readBody(context, row, undefined);
  const foundation = readFoundation(row);
  if (body === undefined || (foundation === undefined && row.text('foundation') !== '')) {
    book.failed.add(id);
    return undefined;
  }
  const property: PlannedProperty = {
    id,
    body,
    number: reference === '' ? null : normalise(reference),
    structuresByName: new Map(),
    stationsByKey: new Map(),
    foundation: foundation ?? 'unknown',
    said: new Map(),
    lastSaid: '',
  };
  noteSaid(context, property, row);
  const subject = { property: id, station: null, key: id, timeZone: body.timeZone };
  const result = writer.write('property added', subject, beganOn(row, context.today), body);
  if (result !== 'written') {
    row.problem('name', 'property withdrawn');
    book.failed.add(id);
    return undefined;
  }
  book.counts.newProperties += 1;
  remember(book, property);
  return property;
}

/** Since when it is in the book: the earliest day the row tells, never later than today. */
function beganOn(row: RowReader, today: Day): Day {
  const day = row.day('agreementStart') ?? row.day('installedOn') ?? row.day('visitDate') ?? today;
  return day > today ? today : day;
}

/** False when a problem was reported. */
function changeProperty(
  book: ImportBook,
  property: PlannedProperty,
  row: RowReader,
  records: RecordType,
): boolean {
  const { context, writer, counts } = book;
  const signature = BODY_FIELDS.map(row.cell).join('\n');
  if (signature === property.lastSaid && records !== 'properties') return true;
  if (!noteSaid(context, property, row)) return false;
  const said = readBody(context, row, property.body);
  if (said === undefined) return false;
  const before = new Map<string, unknown>(Object.entries(property.body));
  const changed: Partial<PropertyBody> = Object.fromEntries(
    Object.entries(said).filter(([field, value]) => canonical(value) !== canonical(before.get(field))),
  );
  const isChanged = Object.keys(changed).length > 0;
  if (isChanged) {
    writer.writeChange(
      'property changed',
      { property: property.id, station: null, key: property.id, timeZone: said.timeZone },
      changed,
    );
    property.body = said;
    remember(book, property);
  }
  const isFoundationChanged = records === 'properties' && changeFoundation(book, property, row);
  if (isChanged || isFoundationChanged) counts.changedProperties += 1;
  else if (records === 'properties') counts.knownRows += 1;
  return true;
}

/** A property's own row speaks for its only structure, or for those yet to come. */
function changeFoundation(book: ImportBook, property: PlannedProperty, row: RowReader): boolean {
  const foundation = readFoundation(row);
  if (foundation === undefined) return false;
  property.foundation = foundation;
  const [only, ...others] = property.structuresByName.values();
  if (only === undefined || others.length > 0 || only.foundation === foundation) return false;
  writeFoundation(book, property, normalise(only.name), foundation, row.placeInWords);
  return true;
}

/** Says a recorded structure again with another foundation: the last entry of a structure counts. */
export function writeFoundation(
  book: ImportBook,
  property: PlannedProperty,
  nameKey: string,
  foundation: PlannedProperty['foundation'],
  place: string,
): void {
  const known = property.structuresByName.get(nameKey);
  if (known === undefined) return;
  const { id: structure, name, outline } = known;
  book.writer.writeChange(
    'structure added',
    { property: property.id, station: null, key: structure, timeZone: property.body.timeZone },
    { structure, name, foundation, outline },
  );
  property.structuresByName.set(nameKey, { ...known, foundation, foundationSaidAt: place });
}

/** Remembers what the row says; false, with a problem, when an earlier row of this import said something else. */
function noteSaid(context: ImportContext, property: PlannedProperty, row: RowReader): boolean {
  let isAgreed = true;
  for (const field of BODY_FIELDS) {
    const text = row.cell(field);
    if (text === '') continue;
    const earlier = property.said.get(field);
    if (earlier === undefined) property.said.set(field, { text, place: row.placeInWords });
    else if (!isSameSaid(context, field, earlier.text, text)) {
      isAgreed = false;
      row.problem(field, 'said otherwise', {
        place: earlier.place,
        text: earlier.text.slice(0, 80),
        label: row.tell.label(field),
      });
    }
  }
  if (isAgreed) property.lastSaid = BODY_FIELDS.map(row.cell).join('\n');
  return isAgreed;
}

function isSameSaid({ branches, profiles }: ImportContext, field: Field, a: string, b: string): boolean {
  if (a === b) return true;
  // A minus sign is punctuation to normalise.
  if (field === 'latitude' || field === 'longitude') return Number(a) === Number(b);
  if (normalise(a) === normalise(b)) return true;
  // One sheet may have the id and another the name.
  const known = field === 'branch' ? branches : field === 'profile' ? profiles : [];
  const [one, ...others] = listCalled(known, a);
  return one !== undefined && others.length === 0 && listCalled(known, b)[0] === one;
}
