import {
  type AnyFact,
  type Day,
  type DueWork,
  findMoment,
  type LabelProfile,
  type PropertyState,
  type StationModel,
  TASKS,
} from '@sillwatch/trade';
import type { Block, Document } from '../document/model.ts';
import { type FirmCard, isInvented, paperFrame } from './firm.ts';
import { clockOf, dayInWords, shortDay, stationInWords, stationsInWords, structureNameIn } from './format.ts';
import { outcomeOf } from './stationWords.ts';
import { diagramBlocks } from './visitDiagram.ts';
import { type ClosedRead, getVisitFacts, type StationEvent, type VisitFacts } from './visitFacts.ts';
import { countOpened, countOutcome, countStations, visitFoundInWords } from './visitFound.ts';
import { nextBlocks } from './visitNext.ts';
import { applicationBlocks, eventBlocks, partBlocks, stationsThen } from './visitTables.ts';
import { type PaperLanguage, type Say, sayIn } from './words/say.ts';

export interface VisitReportInput {
  readonly firm: FirmCard;
  readonly property: PropertyState;
  /** All facts of the property; others are passed over. */
  readonly facts: readonly AnyFact[];
  readonly visit: string;
  readonly profile: LabelProfile | null;
  /** By id; names of the stations' models. */
  readonly models: Readonly<Record<string, StationModel>>;
  readonly due: DueWork;
  readonly asOf: Day;
  /** RFC 3339 with offset. */
  readonly writtenAt: string;
  readonly lang?: PaperLanguage;
}

/**
 * The paper a customer gets after a visit: found, done, used, carried over, due next, cautions, and who answers for it.
 * Throws a RangeError when no fact of the property names the visit.
 */
export function visitReport(input: VisitReportInput): Document {
  const say = sayIn(input.lang ?? 'en-US');
  const { property } = input;
  const facts = input.facts.filter((fact) => fact.property === property.property);
  const visit = getVisitFacts(facts, input.visit, property);
  const day = visit.day === null ? say('not recorded') : dayInWords(visit.day, say.lang);
  return {
    ...paperFrame(say, input.firm, input.writtenAt, isInvented(input.profile)),
    title: say('visit.title'),
    subtitle: say('visit.subtitle', { property: property.body?.name ?? property.property, day }),
    layout: 'portrait',
    blocks: [
      ...summary(visit, property, say),
      { kind: 'details', items: details(input, visit.closed, day, say) },
      ...eventBlocks(visit.events, property, visit.day, input.models, say),
      ...diagramBlocks(property, facts, visit.day, input.profile, say),
      ...clearBlocks(input, visit.day, say),
      ...carriedBlocks(visit.events, property, say),
      ...applicationBlocks(visit.events, property, say),
      ...partBlocks(visit.events, say),
      ...nextBlocks(input, say),
      ...remarks(visit, property, say),
      ...corrections(visit, property, say),
      cautions(say),
      { kind: 'paragraph', tone: 'small', text: say('visit.label') },
    ],
  };
}

function summary(visit: VisitFacts, property: PropertyState, say: Say): readonly Block[] {
  const { events, day } = visit;
  const seen = events.flatMap((event) => (event.kind === 'seen' ? [event] : []));
  const opened = countOpened(seen);
  const unopened = countOutcome(seen, 'unopened');
  const live = countOutcome(seen, 'feeding') + countOutcome(seen, 'live');
  const signs = countOutcome(seen, 'signs');
  const yearly = countStations(seen, (look) => look.yearlyServiceDone);
  const total = stationsThen(events, day, property).length;
  const sentences = [say('visit.lead.opened', { n: opened, total }), ...visitFoundInWords(seen, say)];
  return [
    { kind: 'paragraph', tone: 'lead', text: sentences.join(' ') },
    {
      kind: 'counts',
      items: [
        { value: String(opened), label: say('visit.count.opened', { n: opened }) },
        { value: String(unopened), label: say('visit.count.unopened', { n: unopened }) },
        { value: String(live), label: say('visit.count.live', { n: live }) },
        { value: String(signs), label: say('visit.count.signs', { n: signs }) },
        { value: String(yearly), label: say('visit.count.yearly', { n: yearly }) },
      ],
    },
    { kind: 'paragraph', tone: 'small', text: say('visit.lead.meaning') },
  ];
}

function details(
  input: VisitReportInput,
  closed: ClosedRead | null,
  day: string,
  say: Say,
): readonly { readonly key: string; readonly value: string }[] {
  const blank = say('not recorded');
  const { body } = input.property;
  const { profile } = input;
  const task = TASKS.find((candidate) => candidate === closed?.task);
  const address = body?.address;
  return [
    {
      key: say('visit.property'),
      value:
        address === undefined
          ? blank
          : `${address.street}\n${address.town}, ${address.state} ${address.postcode}`,
    },
    { key: say('visit.customer'), value: body?.customer.name ?? blank },
    { key: say('visit.day'), value: day },
    { key: say('visit.started'), value: clockOf(closed?.startedAt ?? '') ?? blank },
    { key: say('visit.task'), value: task === undefined ? blank : say(`task.${task}`) },
    { key: say('visit.technician'), value: closed?.technician ?? blank },
    { key: say('visit.licence'), value: closed?.licenceNumber ?? blank },
    {
      key: say('visit.product'),
      value:
        profile === null
          ? blank
          : say('visit.product.value', {
              name: profile.product.name,
              number: profile.product.epaRegistrationNumber,
            }),
    },
  ];
}

function carriedBlocks(events: readonly StationEvent[], property: PropertyState, say: Say): readonly Block[] {
  const seen = events.flatMap((event) => (event.kind === 'seen' ? [event] : []));
  const owed = seen.filter(({ seen: look }) => look.task === 'yearly service' && !look.yearlyServiceDone);
  const items: string[] = [];
  for (const [outcome, key] of [
    ['feeding', 'visit.carried.feeding'],
    ['live', 'visit.carried.hit'],
  ] as const) {
    const stations = owed.filter(({ seen: look }) => outcomeOf(look) === outcome);
    if (stations.length > 0) items.push(say(key, { stations: stationsInWords(stations, property, say) }));
  }
  const other = owed.filter(({ seen: look }) => ['signs', 'none', 'unreadable'].includes(outcomeOf(look)));
  if (other.length > 0)
    items.push(say('visit.carried.other', { stations: stationsInWords(other, property, say) }));
  for (const event of seen) {
    const { finding } = event.seen;
    if (finding === null || finding.reach === 'opened') continue;
    items.push(
      say('visit.carried.unopened', {
        stations: stationInWords(event.number, structureNameIn(property, event.structure), say),
        why: finding.why || say('not recorded'),
      }),
    );
  }
  return [
    { kind: 'heading', level: 2, text: say('visit.carried') },
    items.length === 0
      ? { kind: 'paragraph', tone: 'body', text: say('visit.carried.none') }
      : { kind: 'list', items },
  ];
}

/** What the profile calls clear is said with its evidence, and never as a colony that is gone. */
function clearBlocks(input: VisitReportInput, day: Day | null, say: Say): readonly Block[] {
  const { property, due, profile } = input;
  return due.clearStructures
    .filter((clear) => clear.property === property.property && (day === null || clear.clearedOn <= day))
    .map((clear): Block => {
      const structure =
        property.structures.find((item) => item.structure === clear.structure)?.name ?? clear.structure;
      const clearedOn = dayInWords(clear.clearedOn, say.lang);
      const n = profile?.clearAfterChecks.value ?? null;
      return {
        kind: 'note',
        title: say('visit.clear', { structure }),
        text:
          n === null
            ? say('visit.clear.text', { day: clearedOn })
            : say('visit.clear.checks', { day: clearedOn, n }),
      };
    });
}

function remarks(visit: VisitFacts, property: PropertyState, say: Say): readonly Block[] {
  const items = visit.events.flatMap((event) => {
    if (event.kind !== 'seen' || event.seen.note === null) return [];
    const station = stationInWords(event.number, structureNameIn(property, event.structure), say);
    return [say('visit.remark', { station, note: event.seen.note })];
  });
  const note = visit.closed?.note ?? null;
  const all = note === null ? items : [note, ...items];
  if (all.length === 0) return [];
  return [
    { kind: 'heading', level: 2, text: say('visit.remarks') },
    { kind: 'list', items: all },
  ];
}

function corrections(visit: VisitFacts, property: PropertyState, say: Say): readonly Block[] {
  if (visit.ended.length === 0) return [];
  const items = visit.ended.map(({ station, version }) => {
    const what =
      station === null
        ? say('visit.what.visit')
        : stationInWords(station.number, structureNameIn(property, station.structure), say);
    const key = version.standing === 'withdrawn' ? 'visit.withdrawn.item' : 'visit.corrected.item';
    const day = version.endedOn ?? findMoment(version.fact.at)?.day ?? null;
    return say(key, {
      what,
      day: day === null ? say('not recorded') : shortDay(day, say.lang),
      why: version.why ?? say('not recorded'),
    });
  });
  return [
    { kind: 'heading', level: 2, text: say('visit.corrected') },
    { kind: 'list', items },
  ];
}

function cautions(say: Say): Block {
  return {
    kind: 'caution',
    title: say('visit.cautions'),
    items: [
      say('visit.caution.caps'),
      say('visit.caution.children'),
      say('visit.caution.digging'),
      say('visit.caution.pesticide'),
      say('visit.caution.insects'),
    ],
  };
}
