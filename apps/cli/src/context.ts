import { existsSync, mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { openLedger, type StoredLedger } from '@sillwatch/ledger';
import { openServerAccounts } from '@sillwatch/server';
import {
  type LabelProfile,
  type PropertyState,
  STATION_MODELS,
  type StationModel,
  type StationState,
} from '@sillwatch/trade';
import { type Day, findDay, getDay } from '@sillwatch/trade/units';
import { CommandError, EXIT, type Io } from './io.ts';

/** Options that every command takes. */
export interface CommonOptions {
  readonly data: string;
  readonly firm?: string;
  readonly json?: boolean;
}

export interface Context {
  readonly io: Io;
  readonly ledger: StoredLedger;
  readonly firm: string;
  readonly json: boolean;
}

/** Where the ledger is: DATABASE_URL, or the SQLite file in the data folder. */
export function ledgerUrl(io: Io, data: string): string {
  return io.env['DATABASE_URL'] ?? join(resolve(data), 'sillwatch.db');
}

/** Opens the ledger, runs the work, and closes it whatever happens. Throws CommandError when there is no ledger or the firm is not plain. */
export async function withLedger<T>(
  io: Io,
  options: CommonOptions,
  work: (context: Context) => Promise<T>,
): Promise<T> {
  const url = ledgerUrl(io, options.data);
  if (!/^postgres(ql)?:/.test(url) && !existsSync(url)) {
    throw new CommandError(
      EXIT.missing,
      `there is no ledger at ${url}`,
      'Name its folder with --data, or make one: `sillwatch serve` for a firm of your own, `sillwatch demo` for an invented one.',
    );
  }
  const ledger = await openLedger({ url });
  try {
    return await work({
      io,
      ledger,
      firm: chooseFirm(await listFirms(io, ledger, options.data), options.firm),
      json: options.json === true,
    });
  } finally {
    await ledger.close();
  }
}

/** Opens a ledger that may not exist yet. */
export async function withNewLedger<T>(
  io: Io,
  data: string,
  work: (ledger: StoredLedger) => Promise<T>,
): Promise<T> {
  const url = ledgerUrl(io, data);
  if (!/^postgres(ql)?:/.test(url)) mkdirSync(resolve(data), { recursive: true });
  const ledger = await openLedger({ url });
  try {
    return await work(ledger);
  } finally {
    await ledger.close();
  }
}

/** Firms that have entries, and firms that were set up and have none yet. */
async function listFirms(io: Io, ledger: StoredLedger, data: string): Promise<readonly string[]> {
  const withEntries = await ledger.listFirms();
  if (withEntries.length > 0) return withEntries;
  const accounts = await openServerAccounts({ databaseUrl: ledgerUrl(io, data), dataFolder: resolve(data) });
  try {
    return (await accounts.listFirms()).map((firm) => firm.id);
  } finally {
    await accounts.close();
  }
}

function chooseFirm(firms: readonly string[], asked: string | undefined): string {
  if (asked !== undefined) {
    if (firms.includes(asked)) return asked;
    throw new CommandError(
      EXIT.missing,
      `no firm ${JSON.stringify(asked)} in this ledger`,
      `It has: ${firms.join(', ') || 'none yet'}.`,
    );
  }
  const [only, ...others] = firms;
  if (only === undefined) {
    throw new CommandError(
      EXIT.missing,
      'no firm was set up in this ledger yet',
      'Set the firm up in the browser first: `sillwatch serve`.',
    );
  }
  if (others.length > 0)
    throw new CommandError(
      EXIT.usage,
      'this ledger holds several firms',
      `Name one with --firm: ${firms.join(', ')}.`,
    );
  return only;
}

export function print(
  context: { readonly io: Io; readonly json: boolean },
  value: unknown,
  text: () => string,
): void {
  context.io.out(context.json ? `${JSON.stringify(value, null, 2)}\n` : text());
}

/** The day asked for, or today in the zone. */
export function dayOrToday(io: Io, asked: string | undefined, timeZone: string): Day {
  if (asked !== undefined) {
    const day = findDay(asked);
    if (day === undefined)
      throw new CommandError(
        EXIT.usage,
        `${JSON.stringify(asked)} is not a day`,
        'Write it as YYYY-MM-DD, for example 2026-03-04.',
      );
    return day;
  }
  return getDay(
    Temporal.Instant.fromEpochMilliseconds(io.now()).toZonedDateTimeISO(timeZone).toPlainDate().toString(),
  );
}

export async function getProperty(context: Context, id: string): Promise<PropertyState> {
  const property = await context.ledger.findProperty(context.firm, id);
  if (property !== undefined) return property;
  const found = await context.ledger.listProperties(context.firm, { text: id, limit: 6 });
  const [only, ...more] = found;
  if (only !== undefined && more.length === 0) return only;
  const remedy =
    found.length === 0
      ? 'See `sillwatch property` for the list; words of the name, street, town or a tag will do.'
      : `Several match: ${found.map((each) => `${each.property} (${each.body?.name ?? 'no name'})`).join(', ')}.`;
  throw new CommandError(EXIT.missing, `no one property ${JSON.stringify(id)}`, remedy);
}

/** By id, number on the ring, or tag. */
export function getStation(property: PropertyState, asked: string): StationState {
  const station = property.stations.find(
    (each) => each.station === asked || String(each.number) === asked || each.tag === asked,
  );
  if (station !== undefined) return station;
  const numbers = property.stations.map((each) => each.number);
  throw new CommandError(
    EXIT.missing,
    `no station ${JSON.stringify(asked)} at ${property.property}`,
    numbers.length === 0
      ? 'It has no stations yet.'
      : `Its stations are numbered ${Math.min(...numbers)} to ${Math.max(...numbers)}; a tag or id will do too.`,
  );
}

export async function getProfile(context: Context, property: PropertyState): Promise<LabelProfile> {
  const { profiles } = await context.ledger.getFirm(context.firm);
  const wanted = property.body?.profile;
  const profile = wanted === undefined ? undefined : profiles[wanted];
  if (profile !== undefined) return profile;
  throw new CommandError(
    EXIT.found,
    `property ${property.property} names the label profile ${JSON.stringify(wanted ?? null)}, which this firm has not entered`,
    'Enter the numbers of the label in use as a label profile before the first record.',
  );
}

/** The models that every firm has; its own win. */
export const COMMON_MODELS: Readonly<Record<string, StationModel>> = Object.fromEntries(
  STATION_MODELS.map((model) => [model.id, model]),
);

export async function getModel(context: Context, id: string): Promise<StationModel> {
  const { models: own } = await context.ledger.getFirm(context.firm);
  const models = { ...COMMON_MODELS, ...own };
  const model = models[id];
  if (model !== undefined) return model;
  throw new CommandError(
    EXIT.found,
    `the station model ${JSON.stringify(id)} is not among this firm's models`,
    `It has: ${Object.keys(models).join(', ') || 'none'}.`,
  );
}
