import type {
  AnyFact,
  Day,
  DueWork,
  FactBodies,
  FactKind,
  FirmState,
  LabelProfile,
  PropertyState,
  RoundBody,
  StationModel,
  WorkKind,
} from '@sillwatch/trade';
import type { Me } from '../../api/types.ts';

/**
 * What the yard screens stand on. Everything here answers without a network; nothing here waits for one.
 * Open it with `openFieldStore` (store/open.ts); read it in React with `useWatched` (store/useWatched.ts);
 * for the practice yard take `createPracticeStore` (store/practice.ts), the same interface over memory, which sends nothing.
 */
export interface FieldStore {
  /** The person who signed in on this phone, kept while offline: id, name, licence, firm. */
  readonly me: Watched<Me>;
  /** The coming 7 days, today first. */
  readonly days: Watched<readonly FieldDay[]>;
  /** All properties that this phone holds, in no particular order: those of the coming 7 days and those taken along. */
  readonly properties: Watched<readonly FieldPropertyRow[]>;
  readonly firm: Watched<FieldFirm>;
  /** One property, folded here from the stored facts and the own unsent ones; undefined = not on this phone, or still being read. */
  property(property: string): Watched<FieldProperty | undefined>;
  /** Asks the server for a property outside the coming 7 days and keeps it for 7 days; rejects when nothing answers. */
  takeAlong(property: string): Promise<void>;

  /**
   * Records what was seen or done. Resolves once the fact is on this phone's stable storage, and not before;
   * rejects with `RecordError` when it is not, and then nothing was stored.
   */
  record<K extends FactKind>(
    kind: K,
    property: string | null,
    station: string | null,
    body: FactBodies[K],
    options?: RecordOptions,
  ): Promise<AnyFact>;
  /** A correction that takes the fact back; both stay readable. */
  undo(factId: string, why: string, options?: RecordOptions): Promise<AnyFact>;
  /** A correction with a new body, and a new time when that was what was wrong. */
  correct(
    factId: string,
    why: string,
    body: unknown,
    at?: string | null,
    options?: RecordOptions,
  ): Promise<AnyFact>;
  /** The id that today's records at this property carry: the round's own, else one kept for the day. */
  visitAt(property: string): Promise<string>;
  /** An id for something new (a station, a structure): UUIDv7. */
  newId(): string;

  /** Makes it small, drops what the camera wrote about place and device, stores it by content hash; resolves when it is stored. */
  addPhoto(picture: Blob): Promise<PhotoRef>;
  /** An address to show it from (`blob:`); undefined = not on this phone. Revoke it with `URL.revokeObjectURL` when done. */
  photoUrl(hash: string, size: 'thumbnail' | 'whole'): Promise<string | undefined>;

  readonly sync: Watched<SyncStatus>;
  /** Sends and fetches now, without waiting for the next turn; resolves when that turn is over, well or badly. */
  syncNow(): Promise<void>;
  /** Facts that the server would not take, oldest first; they stay until they are sent again and taken, or set aside. */
  readonly refused: Watched<readonly RefusedFact[]>;
  /** Puts refused facts back into the queue as they are (the office has put right what stood in the way). */
  sendAgain(factIds: readonly string[]): Promise<void>;
  /** Takes a refused fact out of sight; it stays stored on this phone and counts no more. */
  setAside(factId: string): Promise<void>;
  /** All facts and photos that no server has, as one file for the office: for a phone that can no longer send. */
  exportUnsent(): Promise<Blob>;

  /** The customer shall get the report of this visit by e-mail, once its records are sent; call it before the visit is closed. */
  wantReport(property: string, visit: string): Promise<void>;
  /** Reports that have not been handed over; `refusal` says why one cannot go. */
  readonly reports: Watched<readonly WantedReport[]>;
  dropReport(visit: string): Promise<void>;

  readonly storage: Watched<StorageState>;
  /** Asks the browser to keep this store when the disk runs low; best called from a tap. */
  askToPersist(): Promise<boolean>;

  readonly lock: Watched<LockState>;
  /** 4 to 12 digits. `old` is asked for when a PIN is set already; null takes the lock off. */
  setPin(pin: string | null, old?: string): Promise<'done' | 'wrong'>;
  unlock(pin: string): Promise<UnlockAnswer>;
  lockNow(): void;
  /** Takes the lock off without its PIN: for who has just shown by their password that they are `me`. */
  liftLock(): Promise<void>;

  /** Half-done input of a screen, so that an update or a kill does not lose it. Small JSON; keyed by the screen. Unlike a record it may not outlive a power cut of the same second. */
  saveDraft(key: string, value: unknown): Promise<void>;
  readDraft(key: string): Promise<unknown>;
  dropDraft(key: string): Promise<void>;

  readonly update: Watched<UpdateState>;
  /** Saves nothing itself: call it when drafts are saved. Reloads every tab of the app on the new version. */
  applyUpdate(): Promise<void>;

  /**
   * Forgets this person on this phone: `refused` while facts wait, unless `evenUnsent`. Ends the session when online.
   * After it the store is closed and the screens must go to the sign-in.
   */
  signOut(options?: { readonly evenUnsent?: boolean }): Promise<'signed out' | 'refused'>;
  close(): void;
}

/** A value that changes; made for `useSyncExternalStore`: `get` gives the same object until it has changed. */
export interface Watched<T> {
  get(): T;
  subscribe(listener: () => void): () => void;
}

export interface RecordOptions {
  /** RFC 3339 with offset: when it was seen or done; default now. */
  readonly at?: string;
  /** A draft that this record settles: dropped in the same transaction. */
  readonly draft?: string;
}

export interface FieldDay {
  /** `YYYY-MM-DD`, on this phone's calendar */
  readonly day: string;
  /** As published for this person; null = nothing was published for this day. */
  readonly round: RoundBody | null;
  /** Without a round: properties that this phone holds with work open on this day or late, the most urgent first; each on its first day only. */
  readonly due: readonly FieldPropertyRow[];
}

export interface FieldPropertyRow {
  readonly property: string;
  readonly name: string;
  readonly street: string;
  readonly town: string;
  readonly customer: string;
  readonly accessNotes: string;
  readonly hazards: string;
  readonly position: { readonly latitude: number; readonly longitude: number } | null;
  /** Stations in service; stations owed something today; pieces of work past their latest day. */
  readonly stations: number;
  readonly owed: number;
  readonly late: number;
  /** `YYYY-MM-DD` from which something is open, and by which it should be done; null = nothing owed. */
  readonly earliest: string | null;
  readonly latest: string | null;
  readonly works: readonly { readonly work: WorkKind; readonly stations: number }[];
  /** True = facts of this property wait on this phone. */
  readonly unsent: boolean;
}

export interface FieldProperty {
  /** Stations carry the profile's test for clear (`assessClearance`). */
  readonly state: PropertyState;
  readonly profile: LabelProfile | undefined;
  readonly due: DueWork | undefined;
  /** Today where the property stands. */
  readonly today: Day;
  /** Every fact of the property, own unsent ones included, in order of recording: for histories and corrections. */
  readonly facts: readonly AnyFact[];
  /** Ids of facts that no server has confirmed yet. */
  readonly unsent: ReadonlySet<string>;
  /** RFC 3339: when the server's facts of this property were last fetched; null = only own facts are here. */
  readonly fetchedAt: string | null;
}

export interface FieldFirm {
  readonly state: FirmState;
  readonly profiles: Readonly<Record<string, LabelProfile>>;
  /** The models that every firm has, and its own, which win. */
  readonly models: Readonly<Record<string, StationModel>>;
  /** part id -> name, of the trade and the firm's own. */
  readonly partNames: Readonly<Record<string, string>>;
  /** account id -> name; former people included, because records name them. */
  readonly names: ReadonlyMap<string, string>;
}

export interface PhotoRef {
  /** sha256 hex of the stored picture */
  readonly hash: string;
  readonly bytes: number;
}

export interface SyncStatus {
  /** Facts on this phone that no server has; photos likewise. */
  readonly waiting: number;
  readonly photosWaiting: number;
  readonly refused: number;
  /** RFC 3339; null = never */
  readonly lastSentAt: string | null;
  readonly lastFetchedAt: string | null;
  /** What the browser says; a line may be up and the server still out of reach. */
  readonly online: boolean;
  readonly running: boolean;
  readonly problem: SyncProblem | null;
  /** RFC 3339; null = none planned */
  readonly nextTryAt: string | null;
  /**
   * How far this phone's clock stands ahead of the server's (minus = behind), minutes, when it is more than
   * 5 minutes; null = it agrees, or has not been compared. Records are kept all the same.
   */
  readonly clockOffMinutes: number | null;
}

export type SyncProblem =
  | 'unreachable'
  | 'sign in again'
  | 'other person signed in'
  | 'password must be changed'
  | 'server trouble'
  | 'too many requests'
  | 'storage full'
  /** The firm's room for pictures at the server is used up; records go all the same. */
  | 'no room for photos'
  /** The person was taken out of the firm: the firm's data is gone from this phone, unsent facts wait to be handed over. */
  | 'no longer of the firm';

export interface RefusedFact {
  readonly fact: AnyFact;
  /** `malformed`, `not allowed`, `legal field missing`, `other firm`, `id reused with other content` */
  readonly code: string;
  /** The server's own sentence. */
  readonly detail: string;
  readonly refusedAt: string;
}

export interface WantedReport {
  readonly property: string;
  readonly visit: string;
  readonly refusal: string | null;
}

export interface StorageState {
  /** True = the browser will not throw this store away by itself; null = it cannot say. */
  readonly persisted: boolean | null;
  readonly usedBytes: number | null;
  readonly quotaBytes: number | null;
  /** Less than 50 MB or a tenth of the quota is left, or a write has failed for want of room. */
  readonly tight: boolean;
}

/**
 * The lock keeps somebody who picks the phone up from reading and recording in this app. It does not encrypt what is
 * stored: that is the work of the phone's own screen lock and disk encryption (decision 0154).
 */
export interface LockState {
  readonly hasPin: boolean;
  readonly locked: boolean;
}

export type UnlockAnswer =
  | { readonly answer: 'open' }
  | { readonly answer: 'wrong'; readonly waitSeconds: number };

export interface UpdateState {
  /** A newer version is on this phone and waits for `applyUpdate`. */
  readonly ready: boolean;
  /** The app starts without a network. */
  readonly offlineReady: boolean;
}

/** Why a record was not stored. Nothing was lost: what was typed is still on the screen, and no fact exists. */
export class RecordError extends Error {
  readonly code: 'storage full' | 'storage failed' | 'malformed' | 'locked' | 'not found';
  constructor(code: RecordError['code'], message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = 'RecordError';
    this.code = code;
  }
}
