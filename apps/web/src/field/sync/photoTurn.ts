import type { AnyFact } from '@sillwatch/trade';
import type { Notebook } from '../store/notebook.ts';
import type { PhotoRow } from '../store/shelf.ts';
import { orStop, Stop } from './stop.ts';
import type { Transport } from './wire.ts';

/** Bytes of one part: a weak line (50 kB/s) sends one in two seconds and a half. */
const PART_BYTES = 128 * 1024;
/** Thumbnails fetched in one turn; the rest comes with the next. */
const MOST_THUMBNAILS = 40;

/** Sends pictures that wait, each from where the server has it to its end. */
export async function sendPhotos(notebook: Notebook, line: Transport): Promise<void> {
  const photos = await notebook.shelf.transact(['photos'], 'read', (tx) => tx.list('photos'));
  for (const photo of photos) {
    if (photo.state !== 'waiting') continue;
    try {
      await sendPhoto(notebook, line, photo);
    } catch (error) {
      // It waits on this phone until there is room, and holds up no record.
      if (!(error instanceof Stop) || error.result.problem !== 'no room for photos') throw error;
      return;
    }
  }
}

async function sendPhoto(notebook: Notebook, line: Transport, photo: PhotoRow): Promise<void> {
  const { hash, mediaType } = photo;
  const [whole, thumbnail] = await notebook.shelf.transact(['pictures', 'thumbnails'], 'read', async (tx) => [
    await tx.get('pictures', hash),
    await tx.get('thumbnails', hash),
  ]);
  if (whole === undefined) return;
  let state = orStop(await line.photoState(hash));
  while (!state.complete) {
    const offset = state.received;
    const bytes = whole.slice(offset, offset + PART_BYTES);
    const reply = await line.sendPhotoPart({ hash, offset, size: whole.length, mediaType, bytes });
    if (!reply.ok && reply.unfit !== undefined) return settle(notebook, photo, 'refused');
    state = orStop(reply);
  }
  if (!state.thumbnail && thumbnail !== undefined) {
    const reply = await line.sendThumbnail(hash, thumbnail);
    if (!reply.ok && reply.unfit === undefined) orStop(reply);
  }
  await settle(notebook, photo, 'sent');
}

async function settle(notebook: Notebook, photo: PhotoRow, state: 'sent' | 'refused'): Promise<void> {
  await notebook.shelf.transact(['photos'], 'write', (tx) =>
    tx.put('photos', photo.hash, { ...photo, state }),
  );
  notebook.deps.announce();
}

/**
 * Fetches thumbnails of pictures that the facts here name, so that histories show them without a network.
 * `looked` remembers the state of a property whose thumbnails are all here; it lives as long as the engine.
 */
export async function fetchThumbnails(
  notebook: Notebook,
  line: Transport,
  looked: Map<string, number>,
): Promise<void> {
  const have = new Set(await notebook.shelf.transact(['thumbnails'], 'read', (tx) => tx.keys('thumbnails')));
  let left = MOST_THUMBNAILS;
  for (const { property } of notebook.marks) {
    const version = notebook.heldVersion(property);
    if (looked.get(property) === version) continue;
    let isWhole = true;
    const facts = (await notebook.readHeld(property))?.facts ?? [];
    for (const hash of new Set(facts.flatMap(photosOf))) {
      if (have.has(hash)) continue;
      if (left === 0) return;
      left -= 1;
      have.add(hash);
      const bytes = orStop(await line.fetchThumbnail(hash));
      // Not there yet: its phone has not sent it. Asked for again with the next turn.
      if (bytes === null) {
        isWhole = false;
        continue;
      }
      await notebook.shelf.transact(['thumbnails'], 'write', (tx) => tx.put('thumbnails', hash, bytes));
    }
    if (isWhole) looked.set(property, version);
  }
}

function photosOf({ body }: AnyFact): readonly string[] {
  if (typeof body !== 'object' || body === null || !('photos' in body) || !Array.isArray(body.photos))
    return [];
  return body.photos.filter((hash): hash is string => typeof hash === 'string');
}
