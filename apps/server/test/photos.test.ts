import { createHash } from 'node:crypto';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { copyDatabase, openLedger } from '@sillwatch/ledger';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openMailStore } from '../src/mail/store.ts';
import { openPhotoStore } from '../src/photos/photoStore.ts';
import { readPhotoQuota } from '../src/photos/quota.ts';
import { firstFacts } from './support/facts.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'sillwatch-photos-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function picture(seed: number, size = 1000) {
  const bytes = Uint8Array.from({ length: size }, (_, index) => (index * seed) % 251);
  bytes.set([0xff, 0xd8, 0xff, 0xe0]);
  return { bytes, size, hash: createHash('sha256').update(bytes).digest('hex') };
}
const part = (firm: string, { bytes, size, hash }: ReturnType<typeof picture>, offset = 0, until = size) => ({
  firm,
  by: 'ana',
  hash,
  offset,
  size,
  bytes: bytes.slice(offset, until),
});

describe('the room of a firm', () => {
  it('is counted for each firm by itself; what was begun is finished, what does not fit is refused and kept nowhere', async () => {
    const store = await openPhotoStore(join(folder, 'ledger.db'), Date.now, 2500);
    const [first, second, third] = [picture(3), picture(5), picture(7)] as const;
    await store.addPart(part('a', first));
    await store.addPart(part('a', second, 0, 400));
    await expect(store.addPart(part('a', third))).rejects.toMatchObject({ code: 'no room for photos' });
    expect(await store.state('a', third.hash)).toMatchObject({ received: 0 });
    expect(await store.addPart(part('a', second, 400))).toMatchObject({ complete: true });
    // The same one again needs no room; another firm has its own.
    expect(await store.addPart(part('a', first))).toMatchObject({ complete: true });
    expect(await store.addPart(part('b', third))).toMatchObject({ complete: true });
    expect(await store.usage('a')).toEqual({ pictures: 2, usedBytes: 2000, quotaBytes: 2500 });
    expect(await store.usage('nobody')).toMatchObject({ pictures: 0, usedBytes: 0 });
    await store.close();
  });

  it('is read from a setting that says what is wrong with it', () => {
    expect(readPhotoQuota({})).toBeUndefined();
    expect(readPhotoQuota({ PHOTO_GB_PER_FIRM: ' ' })).toBeUndefined();
    expect(readPhotoQuota({ PHOTO_GB_PER_FIRM: '0.5' })).toBe(500_000_000);
    for (const wrong of ['0', '-1', 'much', 'Infinity'])
      expect(() => readPhotoQuota({ PHOTO_GB_PER_FIRM: wrong })).toThrow(/PHOTO_GB_PER_FIRM/);
  });
});

describe('a copied folder', () => {
  it.each(['stopped', 'running'])('brings records, pictures and mail back (server %s)', async (state) => {
    const url = join(folder, 'sillwatch.db');
    const ledger = await openLedger({ url });
    const facts = firstFacts('firm', 'owner', 'house');
    await ledger.append('firm', facts, '2026-01-01T00:00:00.000Z');
    const photos = await openPhotoStore(url, Date.now);
    const one = picture(11, 600_000);
    await photos.addPart(part('firm', one, 0, 500_000));
    await photos.addPart(part('firm', one, 500_000));
    await photos.setThumbnail('firm', one.hash, picture(13).bytes);
    const mail = await openMailStore(url);
    await mail.add(MESSAGE);
    const close = async () => {
      await ledger.close();
      await photos.close();
      await mail.close();
    };
    const copy = mkdtempSync(join(tmpdir(), 'sillwatch-copy-'));
    try {
      if (state === 'stopped') {
        await close();
        cpSync(folder, copy, { recursive: true });
      } else {
        for (const name of ['sillwatch.db', 'sillwatch.photos.db', 'sillwatch.mail.db'])
          await copyDatabase(join(folder, name), join(copy, name));
        await close();
      }
      rmSync(folder, { recursive: true, force: true });
      const restored = join(copy, 'sillwatch.db');
      const [ledgerBack, photosBack, mailBack] = [
        await openLedger({ url: restored }),
        await openPhotoStore(restored, Date.now),
        await openMailStore(restored),
      ];
      expect((await ledgerBack.verify('firm')).sound).toBe(true);
      expect(await ledgerBack.listFacts('firm', { limit: 1000 })).toHaveLength(facts.length);
      expect(Buffer.from((await photosBack.find('firm', one.hash))?.bytes ?? [])).toEqual(
        Buffer.from(one.bytes),
      );
      expect(await photosBack.findThumbnail('firm', one.hash)).toMatchObject({ mediaType: 'image/jpeg' });
      expect(await mailBack.find('firm', 'message-1')).toMatchObject({
        state: 'queued',
        attachment: 'JVBERg==',
      });
      await ledgerBack.close();
      await photosBack.close();
      await mailBack.close();
    } finally {
      rmSync(copy, { recursive: true, force: true });
    }
  });
});

const MESSAGE = {
  firm: 'firm',
  id: 'message-1',
  property: 'house',
  visit: null,
  paper: 'station list',
  recipient: 'ida@customer.invalid',
  subject: 'Stations',
  text: 'Attached.',
  attachmentName: 'stations.pdf',
  attachmentHash: null,
  attachment: 'JVBERg==',
  askedBy: 'owner',
  timeZone: 'America/New_York',
  state: 'queued',
  attempts: 0,
  nextAt: '2026-01-01T00:00:00.000Z',
  leaseUntil: null,
  createdAt: '2026-01-01T00:00:00.000Z',
  changedAt: '2026-01-01T00:00:00.000Z',
  detail: '',
  factId: 'fact-1',
  isRecorded: 0,
} as const;
