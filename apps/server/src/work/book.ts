import { type Ledger, searchText } from '@sillwatch/ledger';
import { type Day, dueWork, type FirmState, type PropertyState, WORKS } from '@sillwatch/trade';
import { createToday, type Today, zoneOf } from './days.ts';
import { eachProperty, profileOf } from './firm.ts';

/** Numbers of one owed item in `BookEntry.items`: index of the work in WORKS, the window, the station, and when it was set. */
export const ITEM_STRIDE = 6;
export const ITEM = { work: 0, earliest: 1, target: 2, latest: 3, station: 4, installedOn: 5 } as const;

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
  readonly position: { readonly latitude: number; readonly longitude: number } | null;
  /** Id of the label profile that the property names; '' = none. */
  readonly profile: string;
  /** False = the firm has no such profile, so nothing can be said to be due. */
  readonly hasProfile: boolean;
  /** ITEM_STRIDE numbers an item; see ITEM. */
  readonly items: Int32Array;
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
}

export interface Books {
  /** The book as of now: what changed since it was last asked for is read again. */
  open(firm: string): Promise<Book>;
}

/** Firms kept at most; the one not asked for longest goes first. */
const MOST_FIRMS = 20;
const FACTS_AT_ONCE = 5_000;

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
      return { firm: firmState, entries, seq, today: createToday(now()) };
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
    for await (const state of eachProperty(ledger, firm, undefined))
      entriesById.set(state.property, toEntry(state, firmState));
    return shelve(firmState, seq);
  }

  async function catchUp(from: Shelved): Promise<Shelved> {
    if ((await ledger.findHead(firm)).seq === from.seq) return from;
    const touched = new Set<string>();
    let seq = from.seq;
    let firmChanged = false;
    for (;;) {
      const facts = await ledger.listFacts(firm, { afterSeq: seq, limit: FACTS_AT_ONCE });
      for (const { property, kind } of facts) {
        if (property !== null) touched.add(property);
        else if (kind !== 'round published' && !kind.startsWith('stock ')) firmChanged = true;
      }
      seq = facts.at(-1)?.receipt?.seq ?? seq;
      if (facts.length < FACTS_AT_ONCE) break;
    }
    const firmState = firmChanged ? await ledger.getFirm(firm) : from.firmState;
    return decidesEntries(firmState) === decidesEntries(from.firmState)
      ? renewEntries(firmState, touched, seq)
      : fill();
  }

  async function renewEntries(
    firmState: FirmState,
    touched: ReadonlySet<string>,
    seq: number,
  ): Promise<Shelved> {
    for (const id of touched) {
      const state = await ledger.findProperty(firm, id);
      if (state !== undefined) entriesById.set(id, toEntry(state, firmState));
    }
    return shelve(firmState, seq);
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
    position: body?.position ?? null,
    profile: body?.profile ?? '',
    hasProfile: profile !== undefined,
    ...(profile === undefined
      ? { items: new Int32Array(0), held: new Int32Array(0) }
      : packWork(state, profile)),
  };
}

type Profile = Parameters<typeof dueWork>[1];

/** Windows do not depend on the day asked about, but a station set after it owes nothing yet: so that day is packed along. */
function packWork(state: PropertyState, profile: Profile): Pick<BookEntry, 'items' | 'held'> {
  const latestInstall = state.stations.reduce<Day | null>(
    (latest, { installedOn }) => (latest === null || installedOn > latest ? installedOn : latest),
    null,
  );
  if (latestInstall === null) return { items: new Int32Array(0), held: new Int32Array(0) };
  const work = dueWork(state.stations, profile, latestInstall);
  const stations = new Map(state.stations.map((one, index) => [one.station, { index, on: one.installedOn }]));
  const items = new Int32Array(work.items.length * ITEM_STRIDE);
  work.items.forEach((item, place) => {
    const station = stations.get(item.station);
    const at = place * ITEM_STRIDE;
    items[at + ITEM.work] = workIndex.get(item.work) ?? 0;
    items[at + ITEM.earliest] = item.earliest;
    items[at + ITEM.target] = item.target;
    items[at + ITEM.latest] = item.latest;
    items[at + ITEM.station] = station?.index ?? 0;
    items[at + ITEM.installedOn] = station?.on ?? 0;
  });
  return { items, held: Int32Array.from(work.held, ({ station }) => stations.get(station)?.on ?? 0) };
}
