import {
  type DueItem,
  type DueWork,
  dueWork,
  type Timeliness,
  timelinessOn,
  type WorkKind,
} from '@sillwatch/trade';
import { type Day, dayToText } from '@sillwatch/trade/units';
import { type CommonOptions, dayOrToday, getProfile, print, withLedger } from '../context.ts';
import { CommandError, createProgress, EXIT, formatTable, type Io } from '../io.ts';

export interface DueOptions extends CommonOptions {
  readonly asOf?: string;
  readonly until?: string;
  readonly branch?: string;
  readonly property?: string;
  readonly late?: boolean;
  readonly work?: string;
}

/** What is owed at one property, of one kind, by one window. */
interface DueRow {
  readonly property: string;
  readonly name: string;
  readonly town: string;
  readonly work: WorkKind;
  readonly stations: number;
  readonly earliest: string;
  readonly target: string;
  readonly latest: string;
  readonly standing: Timeliness;
}

/** `sillwatch due`: the work of the firm, late first, each line one property and one kind of work. */
export async function runDue(io: Io, options: DueOptions): Promise<number> {
  return withLedger(io, options, async (context) => {
    const query = { ...(options.branch === undefined ? {} : { branch: options.branch }), limit: 1_000_000 };
    const properties = await context.ledger.listProperties(context.firm, query);
    const progress = createProgress(io, 'due windows');
    const rows: DueRow[] = [];
    let held = 0;
    let lastAsOf = '';
    for (const [index, property] of properties.entries()) {
      progress.step(index + 1, properties.length);
      if (options.property !== undefined && property.property !== options.property) continue;
      if (property.body === null) continue;
      const asOf = dayOrToday(io, options.asOf, property.body.timeZone);
      const until =
        options.until === undefined ? asOf : dayOrToday(io, options.until, property.body.timeZone);
      if (until < asOf)
        throw new CommandError(EXIT.usage, '--until lies before the day asked about', 'Give a later day.');
      lastAsOf = dayToText(asOf);
      const due = dueWork(property.stations, await getProfile(context, property), asOf);
      held += due.held.length;
      for (const group of groupItems(due, asOf, until, options)) {
        rows.push({
          property: property.property,
          name: property.body.name,
          town: property.body.address.town,
          ...group,
        });
      }
    }
    progress.end();
    rows.sort((a, b) => compareText(a.latest, b.latest) || compareText(a.property, b.property));
    const value = { asOf: lastAsOf, late: rows.filter((row) => row.standing === 'late').length, held, rows };
    print(context, value, () => describe(rows, held, lastAsOf));
    return EXIT.ok;
  });
}

function groupItems(
  due: DueWork,
  asOf: Day,
  until: Day,
  options: DueOptions,
): Omit<DueRow, 'property' | 'name' | 'town'>[] {
  const groups = new Map<string, { items: DueItem[]; standing: Timeliness }>();
  for (const item of due.items) {
    const standing = timelinessOn(item, asOf);
    if (item.earliest > until) continue;
    if (options.late === true && standing !== 'late') continue;
    if (options.work !== undefined && item.work !== options.work) continue;
    const key = `${item.work}|${standing}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { items: [item], standing });
    else group.items.push(item);
  }
  return [...groups.values()].map(({ items, standing }) => {
    const [first] = items;
    if (first === undefined) throw new Error('a group has at least one item');
    const soonest = items.reduce((a, b) => (b.latest < a.latest ? b : a), first);
    return {
      work: first.work,
      stations: items.length,
      earliest: dayToText(soonest.earliest),
      target: dayToText(soonest.target),
      latest: dayToText(soonest.latest),
      standing,
    };
  });
}

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

function describe(rows: readonly DueRow[], held: number, asOf: string): string {
  const properties = new Set(rows.map((row) => row.property)).size;
  const late = rows.filter((row) => row.standing === 'late');
  const heldLine =
    held === 0 ? '' : `${held} yearly services wait because termites are feeding: look only there.\n`;
  if (rows.length === 0) return `Nothing is due on ${asOf || 'that day'}.\n${heldLine}`;
  const head = `${asOf}: work at ${properties} properties, ${new Set(late.map((row) => row.property)).size} of them late.\n${heldLine}\n`;
  return (
    head +
    formatTable(
      [
        { title: 'standing', of: (row) => row.standing },
        { title: 'property', of: (row) => row.property },
        { title: 'name', of: (row) => row.name },
        { title: 'town', of: (row) => row.town },
        { title: 'work', of: (row) => row.work },
        { title: 'stations', of: (row) => String(row.stations), alignRight: true },
        { title: 'earliest', of: (row) => row.earliest },
        { title: 'target', of: (row) => row.target },
        { title: 'latest', of: (row) => row.latest },
      ],
      rows,
    )
  );
}
