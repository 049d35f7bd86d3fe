import {
  type AskBody,
  getDay,
  type LabelProfile,
  type PropertyState,
  type RoundBody,
  type RoundVisit,
  type StationState,
  type WorkKind,
} from '@sillwatch/trade';
import { type CsvCell, toCsv } from '../csv.ts';
import type { Block, Document } from '../document/model.ts';
import { type FirmCard, isInvented, paperFrame } from './firm.ts';
import { clockOf, dayInWords, structureNameIn, structureRank } from './format.ts';
import { partInWords } from './visitTables.ts';
import { type PaperLanguage, type Say, sayIn } from './words/say.ts';

export interface WorkListInput {
  readonly firm: FirmCard;
  readonly round: RoundBody;
  /** Of who drives it. */
  readonly personName: string;
  /** By id: the properties that the round visits. */
  readonly properties: ReadonlyMap<string, PropertyState>;
  /** By property id. */
  readonly profiles: ReadonlyMap<string, LabelProfile>;
  /** What to carry; `name` is said where the part is the firm's own. null = not reckoned. */
  readonly load: readonly { readonly part: string; readonly name: string; readonly count: number }[] | null;
  /** RFC 3339 with offset. */
  readonly writtenAt: string;
  readonly lang?: PaperLanguage;
}

/** What one station is owed at a visit, all its works in one row. */
interface StationRow {
  readonly id: string;
  readonly state: StationState | null;
  readonly works: readonly WorkKind[];
}

/** One technician's round of one day on paper: stops in driving order, and at each what to do at which station. */
export function workListDocument(input: WorkListInput): Document {
  const say = sayIn(input.lang ?? 'en-US');
  const { round } = input;
  const invented = round.visits.some(({ property }) => isInvented(input.profiles.get(property) ?? null));
  return {
    ...paperFrame(say, input.firm, input.writtenAt, invented),
    title: say('worklist.title'),
    subtitle: say('worklist.subtitle', {
      person: input.personName,
      day: dayInWords(getDay(round.day), say.lang),
    }),
    layout: 'portrait',
    blocks: [
      ...opening(round, say),
      ...loadBlocks(input, say),
      cautions(say),
      ...round.visits.flatMap((visit, index) => visitBlocks(input, visit, index + 1, say)),
    ],
  };
}

/** One line a station and visit; a visit without station work has a line of its own. */
export function workListCsv(input: Omit<WorkListInput, 'firm' | 'writtenAt' | 'load'>): string {
  const say = sayIn(input.lang ?? 'en-US');
  return toCsv(
    [
      say('worklist.col.order'),
      say('worklist.col.arrive'),
      say('worklist.col.leave'),
      say('worklist.col.property'),
      say('worklist.address'),
      say('worklist.access'),
      say('worklist.hazards'),
      say('worklist.col.station'),
      say('worklist.col.tag'),
      say('worklist.col.holds'),
      say('worklist.col.work'),
    ],
    input.round.visits.flatMap((visit, index) => csvRows(input, visit, index + 1, say)),
  );
}

function csvRows(
  input: Pick<WorkListInput, 'properties'>,
  visit: RoundVisit,
  order: number,
  say: Say,
): readonly (readonly CsvCell[])[] {
  const property = input.properties.get(visit.property);
  const head = [
    order,
    clockOf(visit.startsAt),
    clockOf(visit.endsAt),
    nameOf(visit, property, say),
    addressOf(property, say).replaceAll('\n', ', '),
    property?.body?.accessNotes ?? null,
    property?.body?.hazards ?? null,
  ];
  const rows = stationRowsOf(visit, property);
  if (rows.length === 0) return [[...head, null, null, null, say('worklist.none')]];
  return rows.map((row) => [
    ...head,
    row.state?.number ?? row.id,
    row.state?.tag ?? null,
    row.state === null ? null : say(`phase.${row.state.phase}`),
    row.works.map((work) => say(`work.${work}`)).join('; '),
  ]);
}

function opening(round: RoundBody, say: Say): readonly Block[] {
  const { visits } = round;
  if (visits.length === 0) return [{ kind: 'paragraph', tone: 'lead', text: say('worklist.lead.none') }];
  const stations = visits.reduce(
    (sum, visit) => sum + new Set(visit.works.map((one) => one.station)).size,
    0,
  );
  const drive = Math.round(visits.reduce((sum, visit) => sum + visit.driveMinutes, 0));
  return [
    { kind: 'paragraph', tone: 'lead', text: say('worklist.lead', { n: visits.length, stations, drive }) },
    {
      kind: 'details',
      items: [
        {
          key: say('worklist.times.key'),
          value: say('worklist.times', {
            from: clockOf(round.startsAt) ?? say('not recorded'),
            to: clockOf(round.endsAt) ?? say('not recorded'),
          }),
        },
        { key: say('worklist.break'), value: say('worklist.minutes', { n: round.breakMinutes }) },
        { key: say('worklist.travel'), value: say(`travel.${round.travel}`) },
      ],
    },
  ];
}

function loadBlocks({ load, round }: WorkListInput, say: Say): readonly Block[] {
  if (round.visits.length === 0) return [];
  const heading: Block = { kind: 'heading', level: 2, text: say('worklist.load') };
  if (load === null || load.length === 0)
    return [
      heading,
      { kind: 'paragraph', tone: 'body', text: load === null ? say('worklist.load.none') : say('none') },
    ];
  return [
    heading,
    {
      kind: 'table',
      caption: say('worklist.load.caption'),
      columns: [
        { header: say('worklist.load.part'), align: 'left', share: 4 },
        { header: say('worklist.load.count'), align: 'right', share: 1 },
      ],
      rows: load.map(({ part, name, count }) => ({
        cells: [partInWords(part, say, name), String(count)],
        look: 'plain',
      })),
    },
  ];
}

function visitBlocks(input: WorkListInput, visit: RoundVisit, order: number, say: Say): readonly Block[] {
  const property = input.properties.get(visit.property);
  const hazards = property?.body?.hazards.trim() ?? '';
  const name = nameOf(visit, property, say);
  const rows = stationRowsOf(visit, property);
  return [
    {
      kind: 'heading',
      level: 2,
      text: say('worklist.visit', {
        n: order,
        from: clockOf(visit.startsAt) ?? say('not recorded'),
        to: clockOf(visit.endsAt) ?? say('not recorded'),
        property: name,
      }),
    },
    { kind: 'details', items: detailsOf(visit, property, say) },
    ...(hazards === ''
      ? []
      : [{ kind: 'caution', title: say('worklist.hazards'), items: [hazards] } as const]),
    rows.length === 0
      ? { kind: 'paragraph', tone: 'body', text: say('worklist.none') }
      : {
          kind: 'table',
          caption: say('worklist.caption', { property: name }),
          columns: [
            { header: say('worklist.col.station'), align: 'left', share: 16 },
            { header: say('worklist.col.tag'), align: 'left', share: 18 },
            { header: say('worklist.col.holds'), align: 'left', share: 16 },
            { header: say('worklist.col.work'), align: 'left', share: 42 },
            { header: say('worklist.col.done'), align: 'left', share: 8 },
          ],
          rows: rows.map((row) => ({ cells: cellsOf(row, property, say), look: 'plain' })),
        },
  ];
}

function detailsOf(
  visit: RoundVisit,
  property: PropertyState | undefined,
  say: Say,
): readonly { readonly key: string; readonly value: string }[] {
  const body = property?.body;
  const access = body?.accessNotes.trim() ?? '';
  const promise = property?.promise ?? null;
  const asks = (property?.asks ?? []).filter(({ ask }) => visit.asks.includes(ask));
  const promised = promise?.day ?? null;
  return [
    { key: say('worklist.address'), value: addressOf(property, say) },
    {
      key: say('worklist.customer'),
      value: [body?.customer.name ?? say('not recorded'), body?.customer.phone ?? '']
        .filter((part) => part !== '')
        .join('\n'),
    },
    {
      key: say('worklist.drive'),
      value: say('worklist.drive.value', {
        minutes: Math.round(visit.driveMinutes),
        distance: milesInWords(visit.driveMetres),
      }),
    },
    ...(access === '' ? [] : [{ key: say('worklist.access'), value: access }]),
    ...(promise === null || promised === null || promised !== dayTextOf(visit)
      ? []
      : [
          {
            key: say('worklist.promise'),
            value: say('worklist.promise.value', {
              day: dayInWords(getDay(promised), say.lang),
              from: promise.from,
              to: promise.to,
            }),
          },
        ]),
    ...(asks.length === 0
      ? []
      : [{ key: say('worklist.asks'), value: asks.map((ask) => askInWords(ask, say)).join('\n') }]),
  ];
}

function askInWords(ask: AskBody, say: Say): string {
  return say(ask.urgent ? 'worklist.ask.urgent' : 'worklist.ask', { why: ask.why, minutes: ask.minutes });
}

function dayTextOf(visit: RoundVisit): string {
  return visit.startsAt.slice(0, 10);
}

const METRES_PER_MILE = 1609.344;

/** `3.2 mi`: the international mile, as roads in the United States are signed. */
function milesInWords(metres: number): string {
  return `${(metres / METRES_PER_MILE).toFixed(1)} mi`;
}

function nameOf(visit: RoundVisit, property: PropertyState | undefined, say: Say): string {
  return property?.body?.name ?? say('worklist.property.gone', { id: visit.property });
}

function addressOf(property: PropertyState | undefined, say: Say): string {
  const address = property?.body?.address;
  return address === undefined
    ? say('not recorded')
    : `${address.street}\n${address.town}, ${address.state} ${address.postcode}`;
}

/** In the order of structures and numbers; a station that the facts do not know keeps its row, last. */
function stationRowsOf(visit: RoundVisit, property: PropertyState | undefined): readonly StationRow[] {
  const states = new Map((property?.stations ?? []).map((state) => [state.station, state]));
  const rank = property === undefined ? () => 0 : structureRank(property);
  return [...Map.groupBy(visit.works, ({ station }) => station)]
    .map(([id, works]) => ({ id, state: states.get(id) ?? null, works: works.map(({ work }) => work) }))
    .sort((a, b) => {
      if (a.state === null || b.state === null)
        return (a.state === null ? 1 : 0) - (b.state === null ? 1 : 0);
      return rank(a.state.structure) - rank(b.state.structure) || a.state.number - b.state.number;
    });
}

function cellsOf(row: StationRow, property: PropertyState | undefined, say: Say): readonly string[] {
  const { state } = row;
  const works = row.works.map((work) => say(`work.${work}`));
  if (state === null || property === undefined)
    return [say('worklist.station.gone', { id: row.id }), '', '', works.join('\n'), '\u25A1'];
  if (state.phase === 'feeding') works.push(say('worklist.feeding'));
  else if (state.openHitOn !== null) works.push(say('worklist.hit'));
  if (state.missesInARow > 0) works.push(say('worklist.missed', { n: state.missesInARow }));
  const structure = structureNameIn(property, state.structure);
  return [
    structure === null ? String(state.number) : `${state.number}\n${structure}`,
    state.tag ?? say('none'),
    say(`phase.${state.phase}`),
    works.join('\n'),
    '\u25A1',
  ];
}

function cautions(say: Say): Block {
  return {
    kind: 'caution',
    title: say('worklist.cautions'),
    items: [
      say('worklist.caution.label'),
      say('worklist.caution.caps'),
      say('worklist.caution.tool'),
      say('worklist.caution.digging'),
      say('worklist.caution.bait'),
      say('worklist.caution.heat'),
    ],
  };
}
