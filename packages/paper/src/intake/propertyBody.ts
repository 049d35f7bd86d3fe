import { dayToText, FOUNDATIONS, type Foundation, type PropertyBody } from '@sillwatch/trade';
import type { Field } from './fields.ts';
import { normalise } from './guessMapping.ts';
import type { ImportContext, Known } from './planImport.ts';
import type { RowReader } from './reader.ts';

/** Columns that speak of a property, whatever else their sheet holds. */
export const BODY_FIELDS: readonly Field[] = [
  'name',
  'customerName',
  'email',
  'phone',
  'street',
  'town',
  'state',
  'postcode',
  'branch',
  'timeZone',
  'profile',
  'agreementStart',
  'agreementRenewal',
  'accessNotes',
  'hazards',
  'latitude',
  'longitude',
];

/**
 * What a row says of its property, laid over what is known of it: an empty cell changes nothing, and a default stands in
 * only where nothing is known. Undefined when problems were reported.
 */
export function readBody(
  context: ImportContext,
  row: RowReader,
  before: PropertyBody | undefined,
): PropertyBody | undefined {
  const say = (field: Field, was: string | undefined): string =>
    row.cell(field) === '' && was !== undefined ? was : row.text(field);
  const name = row.cell('name') || before?.name || row.text('name') || row.text('customerName');
  const customerName = say('customerName', before?.customer.name) || name;
  const street = before === undefined ? row.needed('street') : say('street', before.address.street);
  const branch = chooseKnown(row, 'branch', context.branches, before?.branch);
  const profile = chooseKnown(row, 'profile', context.profiles, before?.profile);
  const timeZone = readTimeZone(row, before?.timeZone);
  const agreement = readAgreement(row, before);
  const position = readPlace(row, before);
  if (name === '') row.problem('name', 'no name');
  if (
    name === '' ||
    street === undefined ||
    branch === undefined ||
    profile === undefined ||
    timeZone === undefined ||
    agreement === undefined ||
    position === undefined
  )
    return undefined;
  return {
    name,
    branch,
    address: {
      street,
      town: say('town', before?.address.town),
      state: say('state', before?.address.state),
      postcode: say('postcode', before?.address.postcode),
    },
    customer: {
      name: customerName,
      email: say('email', before?.customer.email ?? undefined) || null,
      phone: say('phone', before?.customer.phone ?? undefined) || null,
    },
    timeZone,
    profile,
    agreement,
    accessNotes: say('accessNotes', before?.accessNotes),
    hazards: say('hazards', before?.hazards),
    position,
  };
}

const NOT_SAID = { branch: 'branch not said', profile: 'profile not said' } as const;

/** The id of one of the firm's own, called by id or name; what is known, or the only one, where the row does not say. */
function chooseKnown(
  row: RowReader,
  field: 'branch' | 'profile',
  known: readonly Known[],
  was: string | undefined,
): string | undefined {
  if (was !== undefined && row.cell(field) === '') return was;
  const said = row.text(field);
  const [named, ...alike] = listCalled(known, said);
  if (named !== undefined && alike.length === 0) return named.id;
  const [only, ...others] = known;
  if (said === '' && only !== undefined && others.length === 0) return only.id;
  if (known.length === 0) row.problem(field, field === 'branch' ? 'no branch yet' : 'no profile yet');
  else if (named !== undefined)
    row.problem(field, 'name of several', {
      ids: [named, ...alike].map(({ id }) => id).reduce((a, b) => row.tell.note('or', { a, b })),
    });
  else
    row.problem(field, said === '' ? NOT_SAID[field] : 'not the firm’s', {
      names: known.map(inWords).join(', '),
    });
  return undefined;
}

/** Whom a text means: the one with just that id; else all that have it, in whatever letters, as id, as name, or as both in the form of a remedy. */
export function listCalled(known: readonly Known[], said: string): readonly Known[] {
  const exact = known.find(({ id }) => id === said.trim());
  if (exact !== undefined) return [exact];
  const called = normalise(said);
  if (called === '') return [];
  return known.filter((one) => [one.id, one.name, inWords(one)].some((text) => normalise(text) === called));
}

function inWords({ id, name }: Known): string {
  return name === '' || name === id ? id : `${name} (${id})`;
}

function readTimeZone(row: RowReader, was: string | undefined): string | undefined {
  if (was !== undefined && row.cell('timeZone') === '') return was;
  const zone = row.needed('timeZone');
  if (zone === undefined) return undefined;
  try {
    return Temporal.ZonedDateTime.from(`2026-01-01T00:00[${zone}]`).timeZoneId;
  } catch {
    row.problem('timeZone', 'no time zone');
    return undefined;
  }
}

/** null = no agreement with a renewal; undefined = a problem was reported. */
function readAgreement(
  row: RowReader,
  before: PropertyBody | undefined,
): PropertyBody['agreement'] | undefined {
  const was = before?.agreement ?? null;
  const startsOn = row.day('agreementStart');
  const renewsOn = row.day('agreementRenewal');
  const isUnread = (field: Field, day: unknown): boolean => row.text(field) !== '' && day === undefined;
  if (isUnread('agreementStart', startsOn) || isUnread('agreementRenewal', renewsOn)) return undefined;
  // A start alone says since when the property is in the book.
  if (renewsOn === undefined && was === null) return null;
  const starts = startsOn === undefined ? was?.startsOn : dayToText(startsOn);
  const renews = renewsOn === undefined ? was?.renewsOn : dayToText(renewsOn);
  if (starts === undefined || renews === undefined) {
    row.problem('agreementStart', 'agreement without start');
    return undefined;
  }
  if (renews < starts) {
    row.problem('agreementRenewal', 'renewal before start', { day: starts });
    return undefined;
  }
  return { startsOn: starts, renewsOn: renews };
}

/** null = not given; undefined = a problem was reported. */
function readPlace(row: RowReader, before: PropertyBody | undefined): PropertyBody['position'] | undefined {
  if (row.text('latitude') === '' && row.text('longitude') === '') return before?.position ?? null;
  const latitude = row.number('latitude', -90, 90);
  const longitude = row.number('longitude', -180, 180);
  if (latitude !== undefined && longitude !== undefined) return { latitude, longitude };
  if (row.text('latitude') === '' || row.text('longitude') === '')
    row.problem('latitude', 'half a place on earth');
  return undefined;
}

/** undefined = not said, or a problem was reported. */
export function readFoundation(row: RowReader): Foundation | undefined {
  const word = row.word('foundation');
  return FOUNDATIONS.find((one) => one === word);
}
