import { listEveryFact } from '@sillwatch/ledger';
import { CORRECTION, foldOrders, ORDER_KINDS, type OrderState, uuidV7 } from '@sillwatch/trade';
import { addDays, dayToText } from '@sillwatch/trade/units';
import { type CommonOptions, type Context, dayOrToday, print, withLedger } from '../context.ts';
import { CommandError, EXIT, formatTable, type Io } from '../io.ts';
import { appendEntry } from '../terminal.ts';

export interface OrderOptions extends CommonOptions {
  readonly all?: boolean;
  readonly branch?: string;
  readonly part?: string;
  readonly count?: string;
  readonly orderedOn?: string;
  readonly expectedOn?: string;
  readonly reference: string;
  readonly lot?: string;
  readonly usableUntil?: string;
  readonly why?: string;
  readonly by: string;
}

/** `sillwatch order [ACTION] [ORDER]`: what is on order; a new order, what came of one, or that the rest will not come. */
export async function runOrder(
  io: Io,
  action: string | undefined,
  asked: string | undefined,
  options: OrderOptions,
): Promise<number> {
  return withLedger(io, options, async (context) => {
    switch (action) {
      case undefined:
        return list(context, options);
      case 'new':
        return addOrder(context, options);
      case 'came':
        return receive(context, await getOrder(context, asked), options);
      case 'cancel':
        return cancel(context, await getOrder(context, asked), options);
      default:
        throw new CommandError(
          EXIT.usage,
          `no action ${JSON.stringify(action)}`,
          'Use new, came or cancel; without one, the orders are listed.',
        );
    }
  });
}

async function readOrders({ ledger, firm }: Context): Promise<readonly OrderState[]> {
  return foldOrders(await listEveryFact(ledger, firm, { kinds: [...ORDER_KINDS, CORRECTION] }));
}

async function list(context: Context, options: OrderOptions): Promise<number> {
  const orders = (await readOrders(context)).filter(
    ({ open, place }) =>
      (options.all === true || open > 0) && (options.branch === undefined || place === options.branch),
  );
  print(context, orders, () =>
    orders.length === 0
      ? 'Nothing is on order. Record one: sillwatch order new --branch main --part base-monitor --count 50\n'
      : formatTable<OrderState>(
          [
            { title: 'order', of: ({ order }) => order },
            { title: 'for', of: ({ place }) => place },
            { title: 'part', of: ({ part }) => part },
            { title: 'ordered', of: ({ count }) => String(count), alignRight: true },
            { title: 'came', of: ({ came }) => String(came), alignRight: true },
            { title: 'to come', of: ({ open }) => String(open), alignRight: true },
            { title: 'expected', of: ({ expectedOn }) => expectedOn },
            { title: 'reference', of: ({ reference }) => reference },
            { title: '', of: ({ cancelled }) => (cancelled === null ? '' : `cancelled: ${cancelled}`) },
          ],
          orders,
        ),
  );
  return EXIT.ok;
}

async function addOrder(context: Context, options: OrderOptions): Promise<number> {
  const { io } = context;
  const firm = await context.ledger.getFirm(context.firm);
  const branch = firm.branches[options.branch ?? ''];
  if (branch === undefined)
    throw new CommandError(
      options.branch === undefined ? EXIT.usage : EXIT.missing,
      options.branch === undefined ? 'for which branch?' : `no branch ${JSON.stringify(options.branch)}`,
      `Name one with --branch: ${Object.keys(firm.branches).join(', ') || 'none yet, see `sillwatch branch`'}.`,
    );
  const part = firm.parts[options.part ?? ''];
  if (part === undefined)
    throw new CommandError(
      options.part === undefined ? EXIT.usage : EXIT.missing,
      options.part === undefined ? 'which part?' : `no part ${JSON.stringify(options.part)}`,
      `Name one with --part: ${Object.keys(firm.parts).join(', ') || 'none yet; enter packs and days to come at the desk, Office, Parts'}.`,
    );
  const orderedOn = dayOrToday(io, options.orderedOn, branch.timeZone);
  const expectedOn =
    options.expectedOn === undefined
      ? addDays(orderedOn, part.leadDays)
      : dayOrToday(io, options.expectedOn, branch.timeZone);
  const body = {
    order: uuidV7(io.now(), io.random(10)),
    place: branch.branch,
    part: part.part,
    count: readCount(options.count),
    orderedOn: dayToText(orderedOn),
    expectedOn: dayToText(expectedOn),
    reference: options.reference,
  };
  const { verdict } = await appendEntry(context, {
    ...ofFirm(options.by, branch.timeZone),
    kind: 'parts ordered',
    body,
  });
  print(
    context,
    { ...body, verdict },
    () =>
      `Order ${body.order} is recorded as entry ${verdict.seq}: ${body.count} of ${part.name}, expected ${body.expectedOn}.\n`,
  );
  return EXIT.ok;
}

async function receive(context: Context, order: OrderState, options: OrderOptions): Promise<number> {
  const { place, part } = order;
  const zone = await zoneOf(context, place);
  const count = readCount(options.count ?? String(order.open));
  const usableUntil =
    options.usableUntil === undefined ? null : dayToText(dayOrToday(context.io, options.usableUntil, zone));
  const body = { place, part, count, lot: options.lot ?? null, usableUntil, order: order.order };
  const { verdict } = await appendEntry(context, {
    ...ofFirm(options.by, zone),
    kind: 'stock received',
    body,
  });
  const left = Math.max(0, order.open - count);
  const over = count - order.open;
  print(
    context,
    { ...body, toCome: left, verdict },
    () =>
      `Entry ${verdict.seq}: ${count} of ${part} came to ${place}; ${left} are still to come.${over > 0 ? ` ${over} more than were open: count them, and ask.` : ''}\n`,
  );
  return EXIT.ok;
}

async function cancel(context: Context, order: OrderState, options: OrderOptions): Promise<number> {
  if (options.why === undefined)
    throw new CommandError(EXIT.usage, 'why will the rest not come?', 'Say it with --why.');
  const { verdict } = await appendEntry(context, {
    ...ofFirm(options.by, await zoneOf(context, order.place)),
    kind: 'order cancelled',
    body: { order: order.order, why: options.why },
  });
  print(
    context,
    { order: order.order, verdict },
    () => `Entry ${verdict.seq}: the ${order.open} of ${order.part} that had not come will not.\n`,
  );
  return EXIT.ok;
}

const ofFirm = (by: string, timeZone: string) => ({ property: null, station: null, by, timeZone }) as const;

async function zoneOf({ ledger, firm }: Context, branch: string): Promise<string> {
  return (await ledger.getFirm(firm)).branches[branch]?.timeZone ?? 'UTC';
}

/** By its id or by its reference, among those of which something is still to come. */
async function getOrder(context: Context, asked: string | undefined): Promise<OrderState> {
  const open = (await readOrders(context)).filter((one) => one.open > 0);
  const found = open.filter(({ order, reference }) => order === asked || reference === asked);
  const [only, ...more] = found;
  if (asked !== undefined && only !== undefined && more.length === 0) return only;
  const named = (found.length > 1 ? found : open).map(
    ({ order, reference }) => `${order}${reference === '' ? '' : ` (${reference})`}`,
  );
  throw new CommandError(
    asked === undefined ? EXIT.usage : EXIT.missing,
    asked === undefined ? 'which order?' : `no one open order ${JSON.stringify(asked)}`,
    `Still to come: ${named.join(', ') || 'nothing'}.`,
  );
}

function readCount(text: string | undefined): number {
  const count = Number(text);
  if (text !== undefined && Number.isInteger(count) && count >= 1) return count;
  throw new CommandError(
    EXIT.usage,
    text === undefined ? 'how many?' : `--count ${JSON.stringify(text)} is no number of pieces`,
    'Give a whole number of pieces from 1 with --count.',
  );
}
