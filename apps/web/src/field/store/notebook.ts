import {
  type AnyFact,
  checkFact,
  findClock,
  foldRounds,
  type RoundBody,
  receiveClock,
  uuidV7,
} from '@sillwatch/trade';
import type { Me } from '../../api/types.ts';
import { dropSentPictures } from './dropSentPictures.ts';
import type { FetchedFacts, NewFact, NotebookDeps, SentVerdict } from './notebookTypes.ts';
import { RecordError } from './port.ts';
import { asRecordError, isOldRound, mergeOwn, unionOf } from './rows.ts';
import {
  type FirmRow,
  type HeldRow,
  type LogRow,
  type MarkRow,
  ONE,
  type OwnRow,
  ownKey,
  type ReportRow,
  type Shelf,
  ShelfFullError,
  type ShelfTx,
  type WhoRow,
} from './shelf.ts';

export type * from './notebookTypes.ts';

export const NO_FIRM: FirmRow = { facts: [], upTo: 0, names: [], dueAt: [], dueAskedAt: null };
const NO_LOG: LogRow = { lastSentAt: null, lastFetchedAt: null, clockOffMs: null };
/** Rounds older than this are dropped: the phone is for the coming days. */
const ROUND_DAYS_KEPT = 14;

/**
 * Everything that is written on the phone, in whole transactions, with the small parts mirrored in memory.
 * The screens' store and the sync engine both stand on it; neither writes by another way.
 */
export class Notebook {
  readonly shelf: Shelf;
  readonly deps: NotebookDeps;
  private readonly listeners = new Set<() => void>();
  private whoRow: WhoRow;
  private ownRows: readonly OwnRow[] = [];
  private firmRow: FirmRow = NO_FIRM;
  private logRow: LogRow = NO_LOG;
  private markRows: readonly MarkRow[] = [];
  private reportRows: readonly ReportRow[] = [];
  private readonly heldVersions = new Map<string, number>();
  private readonly fetchVersions = new Map<string, number>();
  private full = false;

  private constructor(shelf: Shelf, deps: NotebookDeps, who: WhoRow) {
    this.shelf = shelf;
    this.deps = deps;
    this.whoRow = who;
  }

  /** Opens the notebook of this person; `isFresh` = the server has just said so, else what the notebook itself knows counts. */
  static async open(shelf: Shelf, deps: NotebookDeps, me: Me, isFresh = true): Promise<Notebook> {
    const notebook = new Notebook(shelf, deps, { me, standing: 'current' });
    await notebook.reload();
    // A start after the first one writes nothing: a flush of the disk stands between it and the screen.
    const [known, device] = await shelf.transact(['who', 'device'], 'read', async (tx) => [
      await tx.get('who', ONE),
      await tx.get('device', ONE),
    ]);
    if (!isFresh && known !== undefined && device !== undefined) return notebook;
    notebook.whoRow = await shelf.transact(['who', 'device'], 'write', async (tx) => {
      const known = await tx.get('who', ONE);
      if ((await tx.get('device', ONE)) === undefined)
        await tx.put('device', ONE, { device: makeId(deps), seq: 0, clock: null });
      // Somebody who was taken out and came back starts afresh with the data, and keeps what was never sent.
      const next: WhoRow = known !== undefined && !isFresh ? known : { me, standing: 'current' };
      if (next !== known) await tx.put('who', ONE, next);
      return next;
    });
    return notebook;
  }

  get who(): WhoRow {
    return this.whoRow;
  }
  /** Own facts that are not among the fetched ones yet, in order of recording. */
  get own(): readonly OwnRow[] {
    return this.ownRows;
  }
  get firm(): FirmRow {
    return this.firmRow;
  }
  get log(): LogRow {
    return this.logRow;
  }
  /** Reports to customers that the server has not taken over yet. */
  get reports(): readonly ReportRow[] {
    return this.reportRows;
  }
  /** Properties whose facts are here, and how far they were fetched. */
  get marks(): readonly MarkRow[] {
    return this.markRows;
  }
  /** A write failed for want of room, and none has succeeded since. */
  get isFull(): boolean {
    return this.full;
  }
  /** Changes when what is known of the property does, fetched or own. */
  heldVersion(property: string): number {
    return this.heldVersions.get(property) ?? 0;
  }
  /** Changes when the fetched facts of the property do. */
  fetchVersion(property: string): number {
    return this.fetchVersions.get(property) ?? 0;
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Reads again what another tab wrote. */
  async reload(): Promise<void> {
    await this.shelf.transact(['who', 'outbox', 'firm', 'log', 'marks', 'reports'], 'read', async (tx) => {
      this.reportRows = await tx.list('reports');
      this.whoRow = (await tx.get('who', ONE)) ?? this.whoRow;
      this.ownRows = await tx.list('outbox');
      this.firmRow = (await tx.get('firm', ONE)) ?? NO_FIRM;
      this.logRow = (await tx.get('log', ONE)) ?? NO_LOG;
      this.markRows = await tx.list('marks');
    });
    for (const { property } of this.markRows) this.touchFetched(property);
    for (const { fact } of this.ownRows) if (fact.property !== null) this.touch(fact.property);
    this.tell();
  }

  /** Rounds of this person as last published, by day. */
  rounds(): readonly RoundBody[] {
    const { id } = this.whoRow.me;
    return foldRounds(this.firmRow.facts).filter(({ person }) => person === id);
  }

  newId(): string {
    return makeId(this.deps);
  }

  /**
   * Stamps and stores facts in one strict transaction: id, sequence without gaps and clock come from the same rows that
   * it writes, so two tabs never give out the same one.
   */
  async record(facts: readonly NewFact[]): Promise<readonly AnyFact[]> {
    const { me, standing } = this.whoRow;
    if (standing === 'former')
      throw new RecordError('locked', 'You are no longer of this firm; nothing can be recorded.');
    try {
      return await this.store(facts, me);
    } catch (error) {
      if (!(error instanceof ShelfFullError)) throw asRecordError(error);
    }
    // Pictures that the server has make room for a record that it does not have.
    this.full = true;
    await this.makeRoom();
    try {
      return await this.store(facts, me);
    } catch (error) {
      this.tell();
      throw asRecordError(error);
    }
  }

  private async store(facts: readonly NewFact[], me: Me): Promise<readonly AnyFact[]> {
    const rows = await this.shelf.transact(['device', 'outbox', 'drafts'], 'write', async (tx) => {
      const device = await tx.get('device', ONE);
      if (device === undefined) throw new Error('the store has no device row');
      let { seq, clock } = device;
      const stored: OwnRow[] = [];
      for (const { kind, property, station, body, at, draft } of facts) {
        const now = this.deps.now();
        seq += 1;
        clock = receiveClock(clock ?? undefined, this.latestSeen(property), now);
        const fact: AnyFact = {
          id: makeId(this.deps),
          firm: me.firm.id,
          property,
          station,
          by: me.id,
          device: device.device,
          seq,
          at: at ?? this.deps.timeText(now),
          clock,
          kind,
          body,
        };
        const problems = checkFact(fact);
        if (problems.length > 0)
          throw new RecordError(
            'malformed',
            problems.map(({ path, detail, remedy }) => `${path} ${detail}; ${remedy}`).join('; '),
          );
        const row: OwnRow = { fact, state: 'waiting', refusal: null };
        await tx.put('outbox', ownKey(seq), row);
        if (draft !== undefined) await tx.delete('drafts', draft);
        stored.push(row);
      }
      await tx.put('device', ONE, { device: device.device, seq, clock });
      return stored;
    });
    this.full = false;
    this.ownRows = mergeOwn(this.ownRows, rows);
    this.changed(rows.map(({ fact }) => fact.property));
    return rows.map(({ fact }) => fact);
  }

  /** The clock of the property's facts that were seen here, so that what is recorded now sorts after them. */
  private latestSeen(property: string | null): string | undefined {
    return property === null ? undefined : this.seenClocks.get(property);
  }
  private readonly seenClocks = new Map<string, string>();

  /** Called by the view when it has read the facts of a property. */
  noteSeen(property: string, facts: readonly AnyFact[]): void {
    let latest = this.seenClocks.get(property);
    // A clock that runs days ahead must not drag this one along (it would look doubtful on every later record).
    const limit = this.deps.now() + 86_400_000;
    for (const { clock } of facts) {
      const parts = findClock(clock);
      if (parts !== undefined && parts.ms < limit && (latest === undefined || clock > latest)) latest = clock;
    }
    if (latest !== undefined) this.seenClocks.set(property, latest);
  }

  /** The server's facts of one property; undefined = never fetched. */
  readHeld(property: string): Promise<HeldRow | undefined> {
    return this.shelf.transact(['held'], 'read', (tx) => tx.get('held', property));
  }

  /** Own or fetched, wherever it is on this phone. */
  async findFact(id: string): Promise<AnyFact | undefined> {
    const own = this.ownRows.find(({ fact }) => fact.id === id);
    if (own !== undefined) return own.fact;
    for (const { property } of this.markRows) {
      const found = (await this.readHeld(property))?.facts.find((fact) => fact.id === id);
      if (found !== undefined) return found;
    }
    return undefined;
  }

  /** Marks each sent fact with what became of it; a refused one leaves the queue for the tray. */
  async applyVerdicts(sent: readonly OwnRow[], verdicts: readonly SentVerdict[]): Promise<void> {
    const verdictsById = new Map(verdicts.map((verdict) => [verdict.id, verdict]));
    const at = new Date(this.deps.now()).toISOString();
    const isAccepted = verdicts.some(({ verdict }) => verdict !== 'refused');
    await this.shelf.transact(['outbox', 'log'], 'write', async (tx) => {
      for (const { fact } of sent) {
        const verdict = verdictsById.get(fact.id);
        const row = await tx.get('outbox', ownKey(fact.seq));
        // Another tab may have brought it home meanwhile.
        if (verdict === undefined || row === undefined) continue;
        const next: OwnRow =
          verdict.verdict === 'refused'
            ? { fact, state: 'refused', refusal: { code: verdict.code, detail: verdict.detail, at } }
            : { fact, state: 'accepted', refusal: null };
        await tx.put('outbox', ownKey(fact.seq), next);
      }
      if (isAccepted) await tx.put('log', ONE, { ...((await tx.get('log', ONE)) ?? NO_LOG), lastSentAt: at });
    });
    await this.reloadOwn(sent.map(({ fact }) => fact.property));
  }

  /** From the tray back into the queue, or out of sight. */
  async moveRefused(ids: readonly string[], state: 'waiting' | 'set aside'): Promise<void> {
    const wanted = new Set(ids);
    await this.shelf.transact(['outbox'], 'write', async (tx) => {
      for (const row of await tx.list('outbox')) {
        if (row.state !== 'refused' || !wanted.has(row.fact.id)) continue;
        await tx.put('outbox', ownKey(row.fact.seq), {
          ...row,
          state,
          refusal: state === 'waiting' ? null : row.refusal,
        });
      }
    });
    await this.reloadOwn(this.ownRows.map(({ fact }) => fact.property));
  }

  /** Takes in what the server says of the person and the firm. */
  async applyFirm(said: {
    readonly me: Me;
    readonly facts: readonly AnyFact[];
    readonly upTo: number;
    readonly names: FirmRow['names'];
    readonly clockOffMs: number;
  }): Promise<void> {
    const oldest = this.deps.timeText(this.deps.now() - ROUND_DAYS_KEPT * 86_400_000).slice(0, 10);
    await this.shelf.transact(['who', 'firm', 'log'], 'write', async (tx) => {
      const before = (await tx.get('firm', ONE)) ?? NO_FIRM;
      await tx.put('who', ONE, { me: said.me, standing: 'current' });
      await tx.put('firm', ONE, {
        ...before,
        facts: unionOf(before.facts, said.facts).filter((fact) => !isOldRound(fact, oldest)),
        upTo: Math.max(before.upTo, said.upTo),
        names: said.names,
      });
      const log = (await tx.get('log', ONE)) ?? NO_LOG;
      await tx.put('log', ONE, { ...log, clockOffMs: said.clockOffMs });
    });
    await this.reloadSmall();
  }

  /** Asked for before the visit is closed, so that a kill between the two loses no wish; it is asked of the server once the visit is there. */
  async wantReport(property: string, visit: string): Promise<void> {
    const askedAt = new Date(this.deps.now()).toISOString();
    await this.changeReports((tx) => tx.put('reports', visit, { property, visit, askedAt, refusal: null }));
  }

  /** The server has taken it over, or it was given up. */
  async dropReport(visit: string): Promise<void> {
    await this.changeReports((tx) => tx.delete('reports', visit));
  }

  async refuseReport(report: ReportRow, refusal: string): Promise<void> {
    await this.changeReports((tx) => tx.put('reports', report.visit, { ...report, refusal }));
  }

  private async changeReports(change: (tx: ShelfTx) => Promise<void>): Promise<void> {
    this.reportRows = await this.shelf.transact(['reports'], 'write', async (tx) => {
      await change(tx);
      return tx.list('reports');
    });
    this.changed([]);
  }

  async applyDue(properties: readonly string[]): Promise<void> {
    const dueAskedAt = new Date(this.deps.now()).toISOString();
    await this.shelf.transact(['firm'], 'write', async (tx) => {
      const before = (await tx.get('firm', ONE)) ?? NO_FIRM;
      await tx.put('firm', ONE, { ...before, dueAt: properties, dueAskedAt });
    });
    await this.reloadSmall();
  }

  /**
   * Adds fetched facts. Own facts among them have come home: they leave the outbox in the same transaction, so that a
   * fact is always in one of the two places.
   */
  async applyFacts(got: readonly FetchedFacts[]): Promise<void> {
    const marksByProperty = new Map(this.markRows.map((mark) => [mark.property, mark]));
    const news = got.filter(({ property, facts, upTo, takenUntil }) => {
      const mark = marksByProperty.get(property);
      return facts.length > 0 || mark === undefined || mark.upTo < upTo || takenUntil !== undefined;
    });
    if (news.length === 0) return;
    await this.shelf.transact(['held', 'marks', 'outbox'], 'write', async (tx) => {
      const homeIds = new Set<string>();
      for (const { property, facts, upTo, takenUntil } of news) {
        for (const { id } of facts) homeIds.add(id);
        const before = await tx.get('held', property);
        const mark = await tx.get('marks', property);
        await tx.put('held', property, { property, facts: unionOf(before?.facts ?? [], facts) });
        await tx.put('marks', property, {
          property,
          upTo: Math.max(mark?.upTo ?? 0, upTo),
          takenUntil: takenUntil ?? mark?.takenUntil ?? null,
        });
      }
      for (const { fact } of await tx.list('outbox'))
        if (homeIds.has(fact.id)) await tx.delete('outbox', ownKey(fact.seq));
    });
    for (const { property } of news) this.touchFetched(property);
    await this.reloadOwn([]);
  }

  /** Lets go of properties that are not among the coming work, and of own facts there that the server has. */
  async keepOnly(wanted: ReadonlySet<string>): Promise<void> {
    const today = this.deps.timeText(this.deps.now()).slice(0, 10);
    const unsent = new Set(
      this.ownRows.flatMap(({ fact, state }) => (state === 'accepted' ? [] : [fact.property])),
    );
    const gone = new Set(
      this.markRows.flatMap(({ property, takenUntil }) =>
        wanted.has(property) || unsent.has(property) || (takenUntil !== null && takenUntil >= today)
          ? []
          : [property],
      ),
    );
    const isSettled = ({ fact, state }: OwnRow): boolean =>
      state === 'accepted' && (fact.property === null || gone.has(fact.property));
    if (gone.size === 0 && !this.ownRows.some(isSettled)) return;
    await this.shelf.transact(['held', 'marks', 'outbox'], 'write', async (tx) => {
      for (const property of gone) {
        await tx.delete('held', property);
        await tx.delete('marks', property);
      }
      for (const row of await tx.list('outbox'))
        if (isSettled(row)) await tx.delete('outbox', ownKey(row.fact.seq));
    });
    for (const property of gone) this.touchFetched(property);
    await this.reloadOwn([]);
  }

  async noteFetched(): Promise<void> {
    const lastFetchedAt = new Date(this.deps.now()).toISOString();
    await this.shelf.transact(['log'], 'write', async (tx) => {
      await tx.put('log', ONE, { ...((await tx.get('log', ONE)) ?? NO_LOG), lastFetchedAt });
    });
    await this.reloadSmall();
  }

  /** The firm's data goes; own facts and pictures that no server has stay, to be handed over. */
  async endMembership(): Promise<void> {
    await this.shelf.transact(
      [
        'who',
        'firm',
        'held',
        'marks',
        'listed',
        'thumbnails',
        'photos',
        'pictures',
        'drafts',
        'visits',
        'outbox',
        'reports',
      ],
      'write',
      async (tx) => {
        const who = await tx.get('who', ONE);
        if (who !== undefined) await tx.put('who', ONE, { ...who, standing: 'former' });
        for (const table of [
          'firm',
          'held',
          'marks',
          'listed',
          'thumbnails',
          'drafts',
          'visits',
          'reports',
        ] as const)
          await tx.clear(table);
        for (const { fact, state } of await tx.list('outbox'))
          if (state === 'accepted') await tx.delete('outbox', ownKey(fact.seq));
        for (const { hash, state } of await tx.list('photos')) {
          if (state === 'waiting') continue;
          await tx.delete('photos', hash);
          await tx.delete('pictures', hash);
        }
      },
    );
    await this.reload();
    this.deps.announce();
  }

  /** Drops whole pictures that the server has; their thumbnails stay. */
  async makeRoom(): Promise<number> {
    return dropSentPictures(this.shelf);
  }

  private async reloadOwn(properties: readonly (string | null)[]): Promise<void> {
    await this.shelf.transact(['outbox', 'log', 'marks'], 'read', async (tx) => {
      this.ownRows = await tx.list('outbox');
      this.markRows = await tx.list('marks');
      this.logRow = (await tx.get('log', ONE)) ?? NO_LOG;
    });
    this.changed(properties);
  }

  private async reloadSmall(): Promise<void> {
    await this.shelf.transact(['who', 'firm', 'log'], 'read', async (tx) => {
      this.whoRow = (await tx.get('who', ONE)) ?? this.whoRow;
      this.firmRow = (await tx.get('firm', ONE)) ?? NO_FIRM;
      this.logRow = (await tx.get('log', ONE)) ?? NO_LOG;
    });
    this.changed([]);
  }

  private changed(properties: readonly (string | null)[]): void {
    for (const property of properties) if (property !== null) this.touch(property);
    this.deps.announce();
    this.tell();
  }

  private touch(property: string): void {
    this.heldVersions.set(property, this.heldVersion(property) + 1);
  }

  private touchFetched(property: string): void {
    this.fetchVersions.set(property, this.fetchVersion(property) + 1);
    this.touch(property);
  }

  private tell(): void {
    for (const listener of this.listeners) listener();
  }
}

function makeId(deps: NotebookDeps): string {
  return uuidV7(deps.now(), deps.randomBytes(10));
}
