import type { Notebook } from './notebook.ts';

/** Of the file; raised when its shape changes. */
export const UNSENT_FORMAT = 'sillwatch unsent 1';

/**
 * Everything that no server has, as one JSON file: `facts` go to `POST /api/facts?importing=true` as they are; pictures
 * are base64 by content hash. `handIn` (sync/handIn.ts) takes the file in, pictures and all.
 */
export async function exportOf(notebook: Notebook): Promise<Blob> {
  const facts = notebook.own.filter(({ state }) => state !== 'accepted');
  const pictures = await notebook.shelf.transact(['photos', 'pictures'], 'read', async (tx) => {
    const found: { hash: string; mediaType: string; base64: string }[] = [];
    for (const { hash, mediaType, state } of await tx.list('photos')) {
      if (state === 'sent') continue;
      const bytes = await tx.get('pictures', hash);
      if (bytes !== undefined) found.push({ hash, mediaType, base64: toBase64(bytes) });
    }
    return found;
  });
  const { me } = notebook.who;
  const content = {
    format: UNSENT_FORMAT,
    firm: me.firm,
    person: { id: me.id, name: me.name },
    writtenAt: new Date(notebook.deps.now()).toISOString(),
    facts: facts.map(({ fact }) => fact),
    refusals: facts.flatMap(({ fact, refusal }) => (refusal === null ? [] : [{ id: fact.id, ...refusal }])),
    pictures,
  };
  return new Blob([JSON.stringify(content, null, 1)], { type: 'application/json' });
}

function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 0x8000)
    text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}
