import { listEveryFact } from '@sillwatch/ledger';
import { dueWork, type PropertyState, type StationState, timelinessOn } from '@sillwatch/trade';
import { dayToText } from '@sillwatch/trade/units';
import { type CommonOptions, dayOrToday, getProfile, getProperty, print, withLedger } from '../context.ts';
import { EXIT, formatTable, type Io } from '../io.ts';

export interface PropertyOptions extends CommonOptions {
  readonly asOf?: string;
  readonly find?: string;
  readonly history?: boolean;
}

/** `sillwatch property [ID]`: the list, or one property with its stations, what is owed at each, and its history. */
export async function runProperty(io: Io, id: string | undefined, options: PropertyOptions): Promise<number> {
  return withLedger(io, options, async (context) => {
    if (id === undefined) {
      const query = { ...(options.find === undefined ? {} : { text: options.find }), limit: 1_000_000 };
      const properties = await context.ledger.listProperties(context.firm, query);
      const rows = properties.map((each) => ({
        property: each.property,
        name: each.body?.name ?? '(not described yet)',
        street: each.body?.address.street ?? '',
        town: each.body?.address.town ?? '',
        stations: each.stations.filter((station) => station.inService).length,
      }));
      print(context, rows, () => describeList(rows));
      return EXIT.ok;
    }
    const property = await getProperty(context, id);
    const asOf = dayOrToday(io, options.asOf, property.body?.timeZone ?? 'UTC');
    const due = dueWork(property.stations, await getProfile(context, property), asOf);
    const facts =
      options.history === true
        ? await listEveryFact(context.ledger, context.firm, { property: property.property })
        : [];
    const rows = property.stations.map((station) => {
      const [next] = due.items
        .filter((item) => item.station === station.station)
        .sort((a, b) => a.latest - b.latest);
      const held = due.held.find((item) => item.station === station.station);
      return {
        station,
        next:
          next === undefined
            ? ''
            : `${next.work}, ${dayToText(next.target)} (by ${dayToText(next.latest)}), ${timelinessOn(next, asOf)}`,
        held: held === undefined ? '' : 'yearly service held: feeding',
      };
    });
    print(
      context,
      { asOf: dayToText(asOf), ...property, due, ...(options.history === true ? { facts } : {}) },
      () =>
        [describeHead(property), describeStations(rows), describeHistory(facts)]
          .filter((part) => part !== '')
          .join('\n'),
    );
    return EXIT.ok;
  });
}

interface ListRow {
  readonly property: string;
  readonly name: string;
  readonly street: string;
  readonly town: string;
  readonly stations: number;
}

function describeList(rows: readonly ListRow[]): string {
  if (rows.length === 0) return 'No property matches.\n';
  return formatTable(
    [
      { title: 'property', of: (row) => row.property },
      { title: 'name', of: (row) => row.name },
      { title: 'street', of: (row) => row.street },
      { title: 'town', of: (row) => row.town },
      { title: 'stations', of: (row) => String(row.stations), alignRight: true },
    ],
    rows,
  );
}

function describeHead(property: PropertyState): string {
  const { body } = property;
  if (body === null) return `${property.property}: not described yet\n`;
  const { street, town, state, postcode } = body.address;
  return [
    `${body.name} (${property.property})`,
    `${street}, ${town}, ${state} ${postcode}`,
    body.accessNotes === '' ? '' : `Access: ${body.accessNotes}`,
    body.hazards === '' ? '' : `Hazard: ${body.hazards}`,
    `Structures: ${property.structures.map((each) => `${each.name} (${each.foundation})`).join(', ') || 'none'}`,
    '',
  ]
    .filter((line, index, all) => line !== '' || index === all.length - 1)
    .join('\n');
}

interface StationRow {
  readonly station: StationState;
  readonly next: string;
  readonly held: string;
}

function describeStations(rows: readonly StationRow[]): string {
  return formatTable(
    [
      { title: 'no.', of: ({ station }) => String(station.number), alignRight: true },
      { title: 'state', of: ({ station }) => (station.inService ? station.phase : 'removed') },
      {
        title: 'last opened',
        of: ({ station }) => (station.lastOpenedOn === null ? 'never' : dayToText(station.lastOpenedOn)),
      },
      {
        title: 'last yearly',
        of: ({ station }) => (station.lastYearlyOn === null ? 'never' : dayToText(station.lastYearlyOn)),
      },
      { title: 'next', of: (row) => row.next },
      { title: '', of: (row) => row.held },
    ],
    rows,
  );
}

function describeHistory(
  facts: readonly {
    readonly at: string;
    readonly kind: string;
    readonly station: string | null;
    readonly by: string;
  }[],
): string {
  if (facts.length === 0) return '';
  return formatTable(
    [
      { title: 'when', of: (fact) => fact.at },
      { title: 'what', of: (fact) => fact.kind },
      { title: 'station', of: (fact) => fact.station ?? '' },
      { title: 'by', of: (fact) => fact.by },
    ],
    facts,
  );
}
