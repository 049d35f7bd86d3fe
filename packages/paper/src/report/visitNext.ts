import {
  type Day,
  type DueItem,
  type DueWork,
  type PropertyState,
  timelinessOn,
  WORKS,
} from '@sillwatch/trade';
import type { Block } from '../document/model.ts';
import { dayInWords, type StationRef, shortDay, stationsInWords } from './format.ts';
import type { Say } from './words/say.ts';

/** What is owed at the property from this day on, one row for each kind of work, and yearly services that wait for feeding to end. */
export function nextBlocks(
  input: { readonly due: DueWork; readonly property: PropertyState; readonly asOf: Day },
  say: Say,
): readonly Block[] {
  const { property, asOf } = input;
  const items = input.due.items.filter((item) => item.property === property.property);
  const held = input.due.held.filter((item) => item.property === property.property);
  const heading: Block = { kind: 'heading', level: 2, text: say('visit.next') };
  const waiting: readonly Block[] =
    held.length === 0
      ? []
      : [
          {
            kind: 'paragraph',
            tone: 'body',
            text: say('visit.next.held', {
              stations: stationsInWords(refsOf(held, property), property, say),
            }),
          },
        ];
  const first = firstOf(items);
  if (first === undefined)
    return [heading, { kind: 'paragraph', tone: 'body', text: say('visit.next.none') }, ...waiting];
  return [
    heading,
    { kind: 'paragraph', tone: 'body', text: promiseInWords(first, asOf, say) },
    {
      kind: 'table',
      caption: say('visit.next.caption', { day: dayInWords(asOf, say.lang) }),
      columns: [
        { header: say('visit.next.col.work'), align: 'left', share: 30 },
        { header: say('visit.next.col.stations'), align: 'left', share: 34 },
        { header: say('visit.next.col.target'), align: 'left', share: 18 },
        { header: say('visit.next.col.latest'), align: 'left', share: 18 },
      ],
      rows: rowsByWork(items, property, say),
    },
    ...waiting,
  ];
}

/** A target that has passed is not promised again. */
function promiseInWords(first: DueItem, asOf: Day, say: Say): string {
  const latest = dayInWords(first.latest, say.lang);
  if (timelinessOn(first, asOf) === 'late') return say('visit.next.late', { day: latest });
  if (first.target <= asOf) return say('visit.next.by', { latest });
  return say('visit.next.first', { day: dayInWords(first.target, say.lang), latest });
}

function rowsByWork(
  items: readonly DueItem[],
  property: PropertyState,
  say: Say,
): readonly { readonly cells: readonly string[]; readonly look: 'plain' }[] {
  const groups = WORKS.flatMap((work) => {
    const own = items.filter((item) => item.work === work);
    const first = firstOf(own);
    return first === undefined ? [] : [{ work, own, first }];
  });
  return groups
    .sort((a, b) => a.first.latest - b.first.latest)
    .map(({ work, own, first }) => ({
      cells: [
        say(`work.${work}`),
        stationsInWords(refsOf(own, property), property, say),
        shortDay(first.target, say.lang),
        shortDay(first.latest, say.lang),
      ],
      look: 'plain',
    }));
}

/** The one that must be done soonest. */
function firstOf(items: readonly DueItem[]): DueItem | undefined {
  return items.reduce<DueItem | undefined>(
    (first, item) => (first === undefined || item.latest < first.latest ? item : first),
    undefined,
  );
}

function refsOf(
  items: readonly { readonly station: string }[],
  property: PropertyState,
): readonly StationRef[] {
  const ids = new Set(items.map((item) => item.station));
  return property.stations.filter((station) => ids.has(station.station));
}
