import {
  assessClearance,
  type Day,
  type DueItem,
  type DueWork,
  dayToText,
  type HeldService,
  type LabelProfile,
  type PropertyState,
  type StationModel,
  type StationState,
} from '@sillwatch/trade';
import { toCsv } from '../csv.ts';
import type { Block, Document } from '../document/model.ts';
import { type FirmCard, isInvented, paperFrame } from './firm.ts';
import { dayInWords, shortDay, stationsInWords, structureRank } from './format.ts';
import { type PaperLanguage, type Say, sayIn } from './words/say.ts';

export interface StationListInput {
  readonly firm: FirmCard;
  readonly property: PropertyState;
  readonly models: Readonly<Record<string, StationModel>>;
  readonly profile: LabelProfile | null;
  readonly due: DueWork;
  readonly asOf: Day;
  /** RFC 3339 with offset. */
  readonly writtenAt: string;
  readonly lang?: PaperLanguage;
}

/** One station as the list shows it. */
export interface StationRow {
  readonly state: StationState;
  readonly structureName: string;
  readonly modelName: string;
  /** The earliest of its owed works; null when nothing is owed yet. */
  readonly next: DueItem | null;
  readonly held: HeldService | null;
}

/** Stations of the property in the order of structures, then of numbers; those out of service last. */
export function stationRows(input: Omit<StationListInput, 'firm' | 'writtenAt'>): readonly StationRow[] {
  const { property, due, models, profile } = input;
  const namesByStructure = new Map(property.structures.map((item) => [item.structure, item.name]));
  const nextByStation = new Map<string, DueItem>();
  for (const item of due.items) {
    const known = nextByStation.get(item.station);
    if (known === undefined || item.latest < known.latest) nextByStation.set(item.station, item);
  }
  const heldByStation = new Map(due.held.map((held) => [held.station, held]));
  const rankOf = structureRank(property);
  const rank = (state: StationState) => (state.inService ? 0 : 1_000_000) + rankOf(state.structure);
  return property.stations
    .map((state) => (profile === null ? state : assessClearance(state, profile)))
    .sort((a, b) => rank(a) - rank(b) || a.number - b.number)
    .map((state) => ({
      state,
      structureName: namesByStructure.get(state.structure) ?? state.structure,
      modelName: models[state.model]?.name ?? state.model,
      next: nextByStation.get(state.station) ?? null,
      held: heldByStation.get(state.station) ?? null,
    }));
}

export function stationListCsv(input: Omit<StationListInput, 'firm' | 'writtenAt'>): string {
  const say = sayIn(input.lang ?? 'en-US');
  const dayOrNull = (day: Day | null) => (day === null ? null : dayToText(day));
  return toCsv(
    [
      say('stations.col.number'),
      say('stations.col.tag'),
      say('stations.col.model'),
      say('stations.col.structure'),
      say('stations.col.phase'),
      say('stations.col.opened'),
      say('stations.col.yearly'),
      say('stations.col.work'),
      say('stations.col.next'),
      say('stations.col.latest'),
      say('stations.col.set'),
      say('stations.col.holds'),
      say('stations.col.auxiliary'),
    ],
    stationRows(input).map((row) => [
      row.state.number,
      row.state.tag,
      row.modelName,
      row.structureName,
      phaseInWords(row.state, say),
      dayOrNull(row.state.lastOpenedOn),
      dayOrNull(row.state.lastYearlyOn),
      row.next === null ? null : say(`work.${row.next.work}`),
      dayOrNull(row.next?.target ?? null),
      dayOrNull(row.next?.latest ?? null),
      dayToText(row.state.installedOn),
      holdsInWords(row.state, say),
      say(row.state.auxiliary ? 'stations.yes' : 'stations.no'),
    ]),
  );
}

export function stationListDocument(input: StationListInput): Document {
  const say = sayIn(input.lang ?? 'en-US');
  const rows = stationRows(input);
  const inService = rows.filter((row) => row.state.inService);
  const out = rows.filter((row) => !row.state.inService);
  return {
    ...paperFrame(say, input.firm, input.writtenAt, isInvented(input.profile)),
    title: say('stations.title'),
    subtitle: say('stations.subtitle', {
      property: input.property.body?.name ?? input.property.property,
      day: dayInWords(input.asOf, say.lang),
    }),
    layout: 'portrait',
    blocks: [
      ...opening(input, inService, say),
      ...tables(inService, say),
      ...outOfService(out, input.property, say),
    ],
  };
}

function opening(input: StationListInput, rows: readonly StationRow[], say: Say): readonly Block[] {
  const { body } = input.property;
  const structures = new Set(rows.map((row) => row.state.structure)).size;
  const address = body?.address;
  const items = [
    {
      key: say('visit.property'),
      value:
        address === undefined
          ? say('not recorded')
          : `${address.street}\n${address.town}, ${address.state} ${address.postcode}`,
    },
    { key: say('visit.customer'), value: body?.customer.name ?? say('not recorded') },
  ];
  const text =
    rows.length === 0
      ? say('stations.none')
      : say('stations.lead.rest', {
          lead: say('stations.lead', { n: rows.length }),
          structures: say('stations.structures', { n: structures }),
        });
  return [
    { kind: 'paragraph', tone: 'lead', text },
    { kind: 'details', items },
  ];
}

function tables(rows: readonly StationRow[], say: Say): readonly Block[] {
  const structures = [...new Set(rows.map((row) => row.state.structure))];
  return structures.flatMap((structure): readonly Block[] => {
    const own = rows.filter((row) => row.state.structure === structure);
    const name = own[0]?.structureName ?? structure;
    return [
      { kind: 'heading', level: 2, text: name },
      {
        kind: 'table',
        caption: say('stations.caption', { structure: name }),
        columns: [
          { header: say('stations.col.number'), align: 'left', share: 8 },
          { header: say('stations.col.tag'), align: 'left', share: 15 },
          { header: say('stations.col.model'), align: 'left', share: 16 },
          { header: say('stations.col.phase'), align: 'left', share: 12 },
          { header: say('stations.col.opened'), align: 'left', share: 13 },
          { header: say('stations.col.yearly'), align: 'left', share: 14 },
          { header: say('stations.col.next'), align: 'left', share: 22 },
        ],
        rows: own.map((row) => ({ cells: cellsOf(row, say), look: 'plain' })),
      },
    ];
  });
}

function cellsOf(row: StationRow, say: Say): readonly string[] {
  const { state } = row;
  const day = (value: Day | null) => (value === null ? say('stations.never') : shortDay(value, say.lang));
  const next = [
    row.next === null
      ? say('stations.nothing')
      : say('stations.next', {
          work: say(`work.${row.next.work}`),
          target: shortDay(row.next.target, say.lang),
          latest: shortDay(row.next.latest, say.lang),
        }),
    ...(row.held === null ? [] : [say('stations.held')]),
  ];
  return [
    state.auxiliary ? `${state.number}\n${say('stations.auxiliary')}` : String(state.number),
    state.tag ?? say('none'),
    row.modelName,
    phaseInWords(state, say),
    day(state.lastOpenedOn),
    day(state.lastYearlyOn),
    next.join('\n'),
  ];
}

/** What stands in each slot, from the bottom up: `monitor, bait`. */
function holdsInWords(state: StationState, say: Say): string {
  return state.slots.map(({ insert }) => say(`insert.${insert ?? 'empty'}`)).join(', ');
}

function phaseInWords(state: StationState, say: Say): string {
  return state.inService ? say(`phase.${state.phase}`) : say('phase.out');
}

function outOfService(rows: readonly StationRow[], property: PropertyState, say: Say): readonly Block[] {
  if (rows.length === 0) return [];
  const stations = stationsInWords(
    rows.map((row) => row.state),
    property,
    say,
  );
  return [{ kind: 'paragraph', tone: 'small', text: say('stations.out', { stations }) }];
}
