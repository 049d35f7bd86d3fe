import {
  type AnyFact,
  addMonths,
  type Day,
  type DueItem,
  type DueWork,
  findDay,
  type LabelProfile,
  type PropertyState,
  resolveFacts,
  timelinessOn,
} from '@sillwatch/trade';
import type { Block, Document } from '../document/model.ts';
import { type FirmCard, isInvented, paperFrame } from './firm.ts';
import { dayInWords, massInWords, stationsInWords } from './format.ts';
import { findApplication, readSeen } from './read.ts';
import { outcomeOf } from './stationWords.ts';
import { type LookOf, stationsWhere } from './visitFound.ts';
import { type PaperLanguage, type Say, sayIn } from './words/say.ts';

export interface RenewalLetterInput {
  readonly firm: FirmCard;
  readonly property: PropertyState;
  /** All facts of the property; others are passed over. */
  readonly facts: readonly AnyFact[];
  readonly profile: LabelProfile | null;
  readonly due: DueWork;
  readonly asOf: Day;
  /** RFC 3339 with offset. */
  readonly writtenAt: string;
  readonly lang?: PaperLanguage;
}

/** What one year came to, from the facts alone. */
interface Year {
  readonly from: Day;
  readonly to: Day;
  readonly visits: number;
  readonly looks: number;
  readonly yearly: number;
  readonly live: ReadonlySet<string>;
  readonly signs: ReadonlySet<string>;
  readonly unopened: ReadonlySet<string>;
  readonly grams: number;
}

/**
 * The letter before an agreement ends: what was found in the year before the day it is written, in plain words. Names no price.
 * Throws a RangeError when the property has no agreement with a day of renewal.
 */
export function renewalLetter(input: RenewalLetterInput): Document {
  const say = sayIn(input.lang ?? 'en-US');
  const { property, asOf } = input;
  const renewsOn = findDay(property.body?.agreement?.renewsOn ?? '');
  if (renewsOn === undefined)
    throw new RangeError(
      `property ${property.property} has no agreement with a day of renewal: record it first`,
    );
  const year = readYear(input);
  return {
    ...paperFrame(say, input.firm, input.writtenAt, isInvented(input.profile)),
    title: say('renewal.title'),
    subtitle: say('renewal.subtitle', {
      property: property.body?.name ?? property.property,
      day: dayInWords(asOf, say.lang),
    }),
    layout: 'portrait',
    blocks: [
      ...opening(input, renewsOn, say),
      ...yearBlocks(year, input, say),
      { kind: 'heading', level: 2, text: say('renewal.next') },
      { kind: 'paragraph', tone: 'body', text: nextInWords(input, say) },
      { kind: 'heading', level: 2, text: say('renewal.not') },
      { kind: 'paragraph', tone: 'body', text: say('renewal.not.text') },
      { kind: 'heading', level: 2, text: say('renewal.how') },
      {
        kind: 'paragraph',
        tone: 'body',
        text:
          asOf <= renewsOn
            ? say('renewal.how.text', { day: dayInWords(renewsOn, say.lang) })
            : say('renewal.how.past'),
      },
      { kind: 'paragraph', tone: 'body', text: `${say('renewal.sign')}\n${input.firm.name}` },
      { kind: 'paragraph', tone: 'small', text: say('visit.label') },
    ],
  };
}

/** Twelve months up to and with the day of the letter. */
function readYear({ facts, property, asOf }: RenewalLetterInput): Year {
  const from = addMonths(asOf, -12);
  const looks: LookOf[] = [];
  let grams = 0;
  for (const { fact, kind, body, when } of resolveFacts(facts).standing) {
    if (fact.property !== property.property || when.day <= from || when.day > asOf) continue;
    grams += findApplication(body)?.grams ?? 0;
    if (kind === 'station seen' && fact.station !== null)
      looks.push({ station: fact.station, seen: readSeen(body) });
  }
  return {
    from,
    to: asOf,
    visits: property.visits.filter(({ day }) => day > from && day <= asOf).length,
    looks: looks.filter(({ seen }) => seen.finding?.reach === 'opened').length,
    yearly: looks.filter(({ seen }) => seen.yearlyServiceDone).length,
    live: stationsWhere(looks, (seen) => outcomeOf(seen) === 'feeding' || outcomeOf(seen) === 'live'),
    signs: stationsWhere(looks, (seen) => outcomeOf(seen) === 'signs'),
    unopened: stationsWhere(looks, (seen) => outcomeOf(seen) === 'unopened'),
    grams,
  };
}

function opening({ property, asOf }: RenewalLetterInput, renewsOn: Day, say: Say): readonly Block[] {
  const address = property.body?.address;
  const where =
    address === undefined
      ? say('not recorded')
      : `${address.street}, ${address.town}, ${address.state} ${address.postcode}`;
  const name = property.body?.customer.name.trim() ?? '';
  return [
    {
      kind: 'paragraph',
      tone: 'body',
      text: say('renewal.dear', { name: name === '' ? say('mail.customer') : name }),
    },
    {
      kind: 'paragraph',
      tone: 'lead',
      text: say(asOf <= renewsOn ? 'renewal.lead' : 'renewal.lead.past', {
        address: where,
        day: dayInWords(renewsOn, say.lang),
      }),
    },
  ];
}

function yearBlocks(year: Year, { property }: RenewalLetterInput, say: Say): readonly Block[] {
  const heading: Block = {
    kind: 'heading',
    level: 2,
    text: say('renewal.year', { from: dayInWords(year.from, say.lang), to: dayInWords(year.to, say.lang) }),
  };
  if (year.visits === 0)
    return [heading, { kind: 'paragraph', tone: 'body', text: say('renewal.visits.none') }];
  const inService = property.stations.filter((state) => state.inService).length;
  return [
    heading,
    {
      kind: 'counts',
      items: [
        { value: String(year.visits), label: say('renewal.count.visits', { n: year.visits }) },
        { value: String(inService), label: say('renewal.count.stations', { n: inService }) },
        { value: String(year.looks), label: say('renewal.count.looks', { n: year.looks }) },
        { value: String(year.live.size), label: say('renewal.count.live', { n: year.live.size }) },
        { value: String(year.yearly), label: say('renewal.count.yearly', { n: year.yearly }) },
      ],
    },
    { kind: 'list', items: findings(year, property, say) },
    { kind: 'paragraph', tone: 'small', text: say('renewal.meaning') },
  ];
}

function findings(year: Year, property: PropertyState, say: Say): readonly string[] {
  const named = (ids: ReadonlySet<string>) =>
    stationsInWords(
      property.stations.filter(({ station }) => ids.has(station)),
      property,
      say,
    );
  const still = property.stations.filter((state) => state.inService);
  const feeding = new Set(still.flatMap((one) => (one.phase === 'feeding' ? [one.station] : [])));
  const open = new Set(
    still.flatMap((one) => (one.openHitOn !== null && one.phase !== 'feeding' ? [one.station] : [])),
  );
  return [
    ...(year.live.size > 0
      ? [say('renewal.found.live', { stations: named(year.live) })]
      : year.looks > 0
        ? [say('renewal.found.none')]
        : []),
    ...(feeding.size > 0 ? [say('renewal.found.feeding', { stations: named(feeding) })] : []),
    ...(open.size > 0 ? [say('renewal.found.open', { stations: named(open) })] : []),
    ...(year.signs.size > 0 ? [say('renewal.found.signs', { stations: named(year.signs) })] : []),
    ...(year.unopened.size > 0 ? [say('renewal.found.unopened', { stations: named(year.unopened) })] : []),
    ...(year.grams > 0 ? [say('renewal.found.bait', { amount: massInWords(year.grams, say) })] : []),
  ];
}

function nextInWords({ due, property, asOf }: RenewalLetterInput, say: Say): string {
  const text = say('renewal.next.text');
  const first = due.items
    .filter((item) => item.property === property.property)
    .reduce<DueItem | undefined>(
      (soonest, item) => (soonest === undefined || item.latest < soonest.latest ? item : soonest),
      undefined,
    );
  if (first === undefined) return text;
  const latest = dayInWords(first.latest, say.lang);
  if (timelinessOn(first, asOf) === 'late') return `${text} ${say('visit.next.late', { day: latest })}`;
  if (first.target <= asOf) return `${text} ${say('visit.next.by', { latest })}`;
  return `${text} ${say('renewal.next.due', { day: dayInWords(first.target, say.lang), latest })}`;
}
