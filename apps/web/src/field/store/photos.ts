import type { Notebook } from './notebook.ts';
import { type PhotoRef, RecordError } from './port.ts';
import { type PhotoRow, ShelfFullError } from './shelf.ts';

/** A picture made small: what the browser does, so that tests can bring their own. */
export interface Picture {
  readonly whole: Uint8Array<ArrayBuffer>;
  readonly thumbnail: Uint8Array<ArrayBuffer>;
  readonly mediaType: string;
}
export type MakeSmall = (picture: Blob) => Promise<Picture>;

/** Stores the picture under the hash of its bytes; the same picture twice is stored once. */
export async function storePhoto(notebook: Notebook, picture: Picture): Promise<PhotoRef> {
  const hash = toHex(new Uint8Array(await crypto.subtle.digest('SHA-256', picture.whole)));
  const bytes = picture.whole.byteLength;
  const put = () =>
    notebook.shelf.transact(['photos', 'pictures', 'thumbnails'], 'write', async (tx) => {
      if ((await tx.get('photos', hash)) !== undefined) return;
      const row: PhotoRow = {
        hash,
        mediaType: picture.mediaType,
        bytes,
        state: 'waiting',
        whole: true,
        takenAt: new Date(notebook.deps.now()).toISOString(),
      };
      await tx.put('photos', hash, row);
      await tx.put('pictures', hash, picture.whole);
      await tx.put('thumbnails', hash, picture.thumbnail);
    });
  try {
    await put();
  } catch (error) {
    if (!(error instanceof ShelfFullError)) throw error;
    await notebook.makeRoom();
    try {
      await put();
    } catch (cause) {
      if (!(cause instanceof ShelfFullError)) throw cause;
      throw new RecordError('storage full', 'The phone has no room left for this picture.', { cause });
    }
  }
  return { hash, bytes };
}

export function toHex(bytes: Uint8Array): string {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
