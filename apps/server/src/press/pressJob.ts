import type { Snapshot } from '@sillwatch/ledger';
import type { Binding, DiagramPaper, Document, LabelPaper } from '@sillwatch/paper';
import type { FirmState } from '@sillwatch/trade';
import type { BundleRequest } from '../papers/inspectorBundle.ts';
import type { RecordRequest } from '../papers/writeRecord.ts';

/** One paper to be drawn, as plain data. A long one is fed what it is made of, page by page. */
export type PressJob =
  | { readonly kind: 'paper'; readonly document: Document }
  | { readonly kind: 'labels'; readonly paper: LabelPaper }
  | { readonly kind: 'diagram'; readonly paper: DiagramPaper }
  | { readonly kind: 'letters'; readonly binding: Binding }
  | { readonly kind: 'record'; readonly request: RecordRequest }
  | {
      readonly kind: 'bundle';
      readonly request: BundleRequest;
      readonly firms: Snapshot['firms'];
      readonly firm: FirmState;
    };

/** Of `letters`, papers to bind; of a `record`, stored facts as JSON; of a `bundle`, entries of the ledger. Opened again for each time it is read. */
export type PressFeed = () => AsyncIterable<readonly unknown[]>;

/** What the thread is sent. A null page ends the feed. */
export type ToPress =
  | { readonly kind: 'job'; readonly job: PressJob }
  | { readonly kind: 'page'; readonly page: readonly unknown[] | null };

/** What the thread answers; `open` begins the feed anew, `next` asks for a page of it. */
export type FromPress =
  | { readonly kind: 'open' }
  | { readonly kind: 'next' }
  | { readonly kind: 'piece'; readonly bytes: Uint8Array<ArrayBuffer> }
  | { readonly kind: 'done' }
  | { readonly kind: 'refused'; readonly reason: PressRefusal; readonly why: string };

/** `busy`: ask again; `too large`: ask for less; `cannot be drawn`: what was asked for does not fit its paper; `gone`: nobody waits for it. */
export type PressRefusal = 'busy' | 'too large' | 'cannot be drawn' | 'gone';

export type Pressed =
  | { readonly ok: true; readonly pieces: readonly Uint8Array<ArrayBuffer>[] }
  | { readonly ok: false; readonly reason: PressRefusal; readonly why: string };
