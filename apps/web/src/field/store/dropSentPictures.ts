import type { Shelf } from './shelf.ts';

/** Drops whole pictures that the server has, to make room; their thumbnails stay. Answers with how many. */
export function dropSentPictures(shelf: Shelf): Promise<number> {
  return shelf.transact(['photos', 'pictures'], 'write', async (tx) => {
    let dropped = 0;
    for (const photo of await tx.list('photos')) {
      if (photo.state !== 'sent' || !photo.whole) continue;
      await tx.delete('pictures', photo.hash);
      await tx.put('photos', photo.hash, { ...photo, whole: false });
      dropped += 1;
    }
    return dropped;
  });
}
