import { type Day, PARTS, type PropertyState, type StationModel, type StationState } from '@sillwatch/trade';
import type { Block } from '../document/model.ts';
import { massInWords, stationInWords, stationsInWords, structureNameIn } from './format.ts';
import { doneInWords, foundInWords } from './stationWords.ts';
import type { StationEvent } from './visitFacts.ts';
import type { MessageKey } from './words/en.ts';
import type { Say } from './words/say.ts';

/** What was found and done, station by station, a table for each structure; stations nobody looked at are named, never implied. */
export function eventBlocks(
  events: readonly StationEvent[],
  property: PropertyState,
  day: Day | null,
  models: Readonly<Record<string, StationModel>>,
  say: Say,
): readonly Block[] {
  const structures = [...new Set(events.map((event) => event.structure))];
  const tables = structures.map((structure): Block => {
    const name =
      property.structures.find((item) => item.structure === structure)?.name ??
      say('visit.structure.unknown', { id: structure });
    return {
      kind: 'table',
      caption: say('visit.stations.caption', { structure: name }),
      columns: [
        { header: say('visit.col.number'), align: 'left', share: 9 },
        { header: say('visit.col.found'), align: 'left', share: 45 },
        { header: say('visit.col.done'), align: 'left', share: 46 },
      ],
      rows: events
        .filter((event) => event.structure === structure)
        .map((event) => ({
          cells: [String(event.number), foundInWords(event, models, say), doneInWords(event, models, say)],
          look: 'plain',
        })),
    };
  });
  const visited = new Set(events.map((event) => event.station));
  const unseen = stationsThen(events, day, property).filter((station) => !visited.has(station.station));
  const rest: readonly Block[] =
    unseen.length === 0
      ? []
      : [
          {
            kind: 'paragraph',
            tone: 'small',
            text: say('visit.unseen', { stations: stationsInWords(unseen, property, say) }),
          },
        ];
  return [{ kind: 'heading', level: 2, text: say('visit.stations') }, ...tables, ...rest];
}

/** The stations that stood on the day of the visit: those set later are no part of its paper. */
export function stationsThen(
  events: readonly StationEvent[],
  day: Day | null,
  property: PropertyState,
): readonly StationState[] {
  const visited = new Set(events.map((event) => event.station));
  return property.stations.filter(
    (state) => visited.has(state.station) || (state.inService && (day === null || state.installedOn <= day)),
  );
}

/** Each application of the visit with product, registration number, amount and who answers for it, and the totals. */
export function applicationBlocks(
  events: readonly StationEvent[],
  property: PropertyState,
  say: Say,
): readonly Block[] {
  const heading: Block = { kind: 'heading', level: 2, text: say('visit.bait') };
  const applied = events.flatMap((event) =>
    event.application === null ? [] : [{ event, application: event.application }],
  );
  if (applied.length === 0)
    return [heading, { kind: 'paragraph', tone: 'body', text: say('visit.bait.none') }];
  const blank = say('not recorded');
  const totals = new Map<string, { product: string; number: string; grams: number }>();
  for (const { application } of applied) {
    const product = application.productName ?? blank;
    const number = application.epaRegistrationNumber ?? blank;
    const key = `${number} ${product}`;
    const grams = (totals.get(key)?.grams ?? 0) + (application.grams ?? 0);
    totals.set(key, { product, number, grams });
  }
  return [
    heading,
    {
      kind: 'table',
      caption: say('visit.bait.caption'),
      columns: [
        { header: say('visit.bait.col.station'), align: 'left', share: 18 },
        { header: say('visit.bait.col.product'), align: 'left', share: 34 },
        { header: say('visit.bait.col.amount'), align: 'right', share: 16 },
        { header: say('visit.bait.col.applicator'), align: 'left', share: 32 },
      ],
      rows: applied.map(({ event, application }) => ({
        cells: [
          stationInWords(event.number, structureNameIn(property, event.structure), say),
          `${application.productName ?? blank}\n${application.epaRegistrationNumber ?? blank}`,
          application.grams === null ? blank : massInWords(application.grams, say),
          [
            application.applicatorName ?? blank,
            `${say('field.certificationNumber')}: ${application.certificationNumber ?? blank}`,
            ...(application.appliedUnderSupervisionBy === null
              ? []
              : [`${say('field.appliedUnderSupervisionBy')}: ${application.appliedUnderSupervisionBy}`]),
          ].join('\n'),
        ],
        look: 'plain',
      })),
    },
    ...[...totals.values()].map(
      ({ product, number, grams }): Block => ({
        kind: 'paragraph',
        tone: 'body',
        text: say('visit.bait.total', { amount: massInWords(grams, say), product, number }),
      }),
    ),
  ];
}

const PART_KEYS: Readonly<Record<string, MessageKey>> = {
  'base-monitor': 'part.base-monitor',
  'top-monitor': 'part.top-monitor',
  'single-monitor': 'part.single-monitor',
  'bait-insert': 'part.bait-insert',
  'bait-cup': 'part.bait-cup',
  'cap-two-part': 'part.cap-two-part',
  'cap-one-part': 'part.cap-one-part',
  'housing-two-part': 'part.housing-two-part',
  'housing-one-part': 'part.housing-one-part',
};

/** A generic part in the paper's language; the firm's own by the name given, or its id. */
export function partInWords(part: string, say: Say, name = PARTS[part] ?? part): string {
  const key = PART_KEYS[part];
  return key === undefined ? name : say(key);
}

/** Parts used over the whole visit, most used first. */
export function partBlocks(events: readonly StationEvent[], say: Say): readonly Block[] {
  const counts = new Map<string, number>();
  for (const event of events) {
    if (event.kind !== 'seen') continue;
    for (const [part, count] of Object.entries(event.seen.partsUsed))
      counts.set(part, (counts.get(part) ?? 0) + count);
  }
  const heading: Block = { kind: 'heading', level: 2, text: say('visit.parts') };
  if (counts.size === 0) return [heading, { kind: 'paragraph', tone: 'body', text: say('visit.parts.none') }];
  return [
    heading,
    {
      kind: 'details',
      items: [...counts]
        .sort((a, b) => b[1] - a[1])
        .map(([part, count]) => ({ key: partInWords(part, say), value: String(count) })),
    },
  ];
}
