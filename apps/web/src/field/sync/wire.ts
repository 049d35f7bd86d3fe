import type { AnyFact } from '@sillwatch/trade';
import type { Me } from '../../api/types.ts';
import type { SentVerdict } from '../store/notebook.ts';
import type { SyncProblem } from '../store/port.ts';

/** What the sync engine asks of the line to the server. Answers are data: a refusal or a silence is never thrown. */
export interface Transport {
  /** Who is signed in, the firm's own facts after `since`, everybody's names, the server's time. */
  pull(since: number): Promise<Reply<PullAnswer>>;
  /** `importing`: taken over by the office, in the name of whoever recorded them. */
  sendFacts(facts: readonly AnyFact[], importing?: boolean): Promise<Reply<readonly SentVerdict[]>>;
  pullFacts(asked: readonly AskedProperty[]): Promise<Reply<readonly PulledProperty[]>>;
  /** Properties with work open within a week, the most urgent first. */
  listDue(branch: string | null): Promise<Reply<readonly string[]>>;
  /** Asked without a session, after one has ended: was it the end of the person at the firm? */
  standing(firm: string, person: string): Promise<Reply<'current' | 'former' | 'unknown'>>;
  /** Asks for the report of a visit to go to its customer; asked twice it goes once. */
  askReport(property: string, visit: string): Promise<Reply<null>>;
  photoState(hash: string): Promise<Reply<PhotoState>>;
  /** A part of a picture from `offset` on; answers with what the server has after it. */
  sendPhotoPart(part: PhotoPart): Promise<Reply<PhotoState>>;
  sendThumbnail(hash: string, bytes: Uint8Array<ArrayBuffer>): Promise<Reply<null>>;
  fetchThumbnail(hash: string): Promise<Reply<Uint8Array<ArrayBuffer> | null>>;
}

export type Reply<T> =
  | { readonly ok: true; readonly value: T }
  | {
      readonly ok: false;
      readonly problem: SyncProblem;
      /** `unfit`: this request, not the line, is what is wrong; sending it again brings the same answer. */
      readonly unfit?: string;
      readonly retryAfterSeconds?: number;
    };

export interface PullAnswer {
  readonly me: Me;
  readonly now: string;
  readonly facts: readonly AnyFact[];
  readonly upTo: number;
  readonly more: boolean;
  readonly names: readonly { readonly id: string; readonly name: string }[];
}
export interface AskedProperty {
  readonly property: string;
  readonly afterSeq: number;
}
export interface PulledProperty extends AskedProperty {
  readonly facts: readonly AnyFact[];
  readonly upTo: number;
  readonly more: boolean;
}
export interface PhotoState {
  /** bytes that are on stable storage, from the start */
  readonly received: number;
  readonly complete: boolean;
  readonly thumbnail: boolean;
}
export interface PhotoPart {
  readonly hash: string;
  readonly offset: number;
  readonly size: number;
  readonly mediaType: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
}
