import { eachFactPage, type Ledger, searchText, TRADE_FOLDS } from '@sillwatch/ledger';
import {
  type Day,
  dueWork,
  type FirmState,
  type PropertyState,
  WORKS,
  type WorkKind,
} from '@sillwatch/trade';
import { createToday, type Today, zoneOf } from './days.ts';
import { eachProperty, profileOf } from './firm.ts';

/**
 * Stations of a property that owe the same within the same windows stand together: numbers of one such group in
 * `BookEntry.groups`. `look` and `yearly` tell where the numbers of each piece of work begin (see PIECE).
 */
export const GROUP_STRIDE = 10;
export const GROUP = { stations: 0, installedOn: 1, look: 2, yearly: 6 } as const;
/** Index of the work in WORKS, NO_WORK where that piece is not owed; then its window. */
export const PIECE = { work: 0, earliest: 1, target: 2, latest: 3 } as const;
export const NO_WORK = -1;

/** What lists and counts need of one property, small enough that a firm of twenty thousand stands in memory. */
export interface BookEntry {
  readonly property: string;
  readonly name: string;
  readonly street: string;
  readonly town: string;
  readonly branch: string;
  readonly customer: string;
  readonly timeZone: string;
  /** See `searchText` of the ledger. */
  readonly search: string;
  readonly structures: number;
  /** in service */
  readonly stations: number;
  readonly feeding: number;
  readonly openHits: number;
  readonly lastVisit: Day | null;
  /** Account id of who made the last visit; null = nobody has been there. */
  readonly lastBy: string | null;
  readonly renewsOn: string | null;
  /** BCP 47, of the papers for the customer; '' = none named. */
  readonly language: string;
  readonly position: { readonly latitude: number; readonly longitude: number } | null;
  /** Id of the label profile that the property names; '' = none. */
  readonly profile: string;
  /** False = the firm has no such profile, so nothing can be said to be due. */
  readonly hasProfile: boolean;
  /** GROUP_STRIDE numbers a group of stations; see GROUP. */
  readonly groups: Int32Array;
  /** For each yearly service that waits because termites are feeding: when its station was set. */
  readonly held: Int32Array;
}

/** A firm's properties as of one position of its ledger. */
export interface Book {
  readonly firm: FirmState;
  /** By id. */
  readonly entries: readonly BookEntry[];
  readonly seq: number;
  readonly today: Today;
  /** Two books of the same entries and quarter of an hour give the same answers: no zone's day begins inside one. */
  readonly quarterHour: number;
}

export interface Books {
  /** The book as of now: what changed since it was last asked for is read again. */
  open(firm: string): Promise<Book>;
}

/** Firms kept at most; the one not asked for longest goes first. */
const MOST_FIRMS = 20;
const QUARTER_HOUR = 900_000;
/** Facts of the firm itself that change its state; rounds and stock do not. */
const FIRM_KINDS: ReadonlySet<string> = new Set(TRADE_FOLDS.firmKinds);

/** Keeps the lists of each firm in step with its ledger, also when another process appends. `now` gives milliseconds since 1970. */
export function createBooks(ledger: Ledger, now: () => number): Books {
  const shelf = new Map<string, FirmShelf>();
  return {
    async open(firm) {
      const kept = shelf.get(firm) ?? createShelf(ledger, firm);
      shelf.delete(firm);
      shelf.set(firm, kept);
      const [oldest] = shelf.keys();
      if (shelf.size > MOST_FIRMS && oldest !== undefined) shelf.delete(oldest);
      const { firmState, entries, seq } = await kept.renew();
      const at = now();
      return {
        firm: firmState,
        entries,
        seq,
        today: createToday(at),
        quarterHour: Math.floor(at / QUARTER_HOUR),
      };
    },
  };
}

interface Shelved {
  readonly firmState: FirmState;
  readonly entries: readonly BookEntry[];
  readonly seq: number;
}

interface FirmShelf {
  renew(): Promise<Shelved>;
}

function createShelf(ledger: Ledger, firm: string): FirmShelf {
  const entriesById = new Map<string, BookEntry>();
  let current: Shelved | undefined;
  let running: Promise<Shelved> | undefined;

  /** Everything anew. The position is read first: what is appended meanwhile is read again at the next renewal, which harms nothing. */
  async function fill(): Promise<Shelved> {
    const seq = (await ledger.findHead(firm)).seq;
    const firmState = await ledger.getFirm(firm);
    entriesById.clear();
    for await (const state of eachProperty(ledger, firm, undefined)) keep(state, firmState);
    return shelve(firmState, seq);
  }

  async function catchUp(from: Shelved): Promise<Shelved> {
    if ((await ledger.findHead(firm)).seq === from.seq) return from;
    const touched = new Set<string>();
    let seq = from.seq;
    let firmChanged = false;
    for await (const facts of eachFactPage(ledger, firm, { afterSeq: seq })) {
      for (const { property, kind } of facts) {
        if (property !== null) touched.add(property);
        else if (FIRM_KINDS.has(kind)) firmChanged = true;
      }
      seq = facts.at(-1)?.receipt?.seq ?? seq;
    }
    const firmState = firmChanged ? await ledger.getFirm(firm) : from.firmState;
    const sameForAll =
      firmState === from.firmState || decidesEntries(firmState) === decidesEntries(from.firmState);
    return sameForAll ? renewEntries(firmState, touched, seq) : fill();
  }

  async function renewEntries(
    firmState: FirmState,
    touched: ReadonlySet<string>,
    seq: number,
  ): Promise<Shelved> {
    for (const id of touched) {
      const state = await ledger.findProperty(firm, id);
      if (state !== undefined) keep(state, firmState);
    }
    return shelve(firmState, seq);
  }

  /** A property of which everything was withdrawn stands in no list. */
  function keep(state: PropertyState, firmState: FirmState): void {
    if (isHollow(state)) entriesById.delete(state.property);
    else entriesById.set(state.property, toEntry(state, firmState));
  }

  function shelve(firmState: FirmState, seq: number): Shelved {
    const entries = [...entriesById.values()].sort((a, b) => (a.property < b.property ? -1 : 1));
    return { firmState, entries, seq };
  }

  return {
    renew() {
      running ??= (current === undefined ? fill() : catchUp(current))
        .then((shelved) => {
          current = shelved;
          return shelved;
        })
        .finally(() => {
          running = undefined;
        });
      return running;
    },
  };
}

function isHollow({ body, structures, stations, visits }: PropertyState): boolean {
  return body === null && structures.length + stations.length + visits.length === 0;
}

/** Label profiles decide every window, branches the zone: when one changes, all entries are computed anew. */
function decidesEntries({ profiles, branches }: FirmState): string {
  return JSON.stringify([profiles, branches]);
}

const workIndex = new Map(WORKS.map((work, index) => [work, index]));

function toEntry(state: PropertyState, firm: FirmState): BookEntry {
  const { body } = state;
  const profile = profileOf(state, firm);
  const inService = state.stations.filter((one) => one.inService);
  const lastVisit = state.visits.at(-1);
  return {
    property: state.property,
    name: body?.name ?? '',
    street: body?.address.street ?? '',
    town: body?.address.town ?? '',
    branch: body?.branch ?? '',
    customer: body?.customer.name ?? '',
    timeZone: zoneOf(state, firm),
    search: searchText(state),
    structures: state.structures.length,
    stations: inService.length,
    feeding: inService.filter(({ phase }) => phase === 'feeding').length,
    openHits: inService.filter(({ openHitOn }) => openHitOn !== null).length,
    lastVisit: lastVisit?.day ?? null,
    lastBy: lastVisit?.by ?? null,
    renewsOn: body?.agreement?.renewsOn ?? null,
    language: body?.language ?? '',
    position: body?.position ?? null,
    profile: body?.profile ?? '',
    hasProfile: profile !== undefined,
    ...(profile === undefined ? NOTHING_OWED : packWork(state, profile)),
  };
}

type Profile = Parameters<typeof dueWork>[1];
type Packed = Pick<BookEntry, 'groups' | 'held'>;
const NOTHING_OWED: Packed = { groups: new Int32Array(0), held: new Int32Array(0) };

/** Windows do not depend on the day asked about, but a station set after it owes nothing yet: so that day is packed along. */
function packWork(state: PropertyState, profile: Profile): Packed {
  const latestInstall = state.stations.reduce<Day | null>(
    (latest, { installedOn }) => (latest === null || installedOn > latest ? installedOn : latest),
    null,
  );
  if (latestInstall === null) return NOTHING_OWED;
  const work = dueWork(state.stations, profile, latestInstall);
  const installedOn = new Map(state.stations.map((one) => [one.station, one.installedOn]));
  const groups = new Map<string, number[]>();
  for (const [station, items] of Map.groupBy(work.items, (item) => item.station)) {
    const numbers = [1, installedOn.get(station) ?? 0, NO_WORK, 0, 0, 0, NO_WORK, 0, 0, 0];
    for (const { work: kind, earliest, target, latest } of items) {
      const from = YEARLY.has(kind) ? GROUP.yearly : GROUP.look;
      numbers.splice(from, 4, workIndex.get(kind) ?? NO_WORK, earliest, target, latest);
    }
    const key = numbers.join();
    const known = groups.get(key);
    if (known === undefined) groups.set(key, numbers);
    else known[GROUP.stations] = (known[GROUP.stations] ?? 0) + 1;
  }
  return {
    groups: Int32Array.from([...groups.values()].flat()),
    held: Int32Array.from(work.held, ({ station }) => installedOn.get(station) ?? 0),
  };
}

/** A station owes at most one of these and at most one of the others (`dueWork`). */
const YEARLY: ReadonlySet<WorkKind> = new Set(['yearly service', 'carried-over service']);
