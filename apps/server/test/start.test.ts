import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { createIdMaker } from '../src/index.ts';
import { Client, FIRM, seedPerson, signedIn, startTestServer } from './support/harness.ts';

describe('the secret', () => {
  it('is made once, readable by its owner only, and keeps sessions over a restart', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'sillwatch-secret-'));
    const options = { databaseUrl: join(folder, 'data', 'ledger.db') };
    const first = await startTestServer(options);
    const file = join(folder, 'data', 'account-secret');
    expect(statSync(file).mode & 0o777).toBe(0o600);
    expect(statSync(options.databaseUrl).mode & 0o777).toBe(0o600);
    const secret = readFileSync(file, 'utf8');
    expect(Buffer.from(secret.trim(), 'base64url')).toHaveLength(32);
    await seedPerson(first, 'owner');
    const client = await signedIn(first, `owner@${FIRM.id}.example`);
    await first.end();

    const second = await startTestServer(options);
    expect(readFileSync(file, 'utf8')).toBe(secret);
    const again = new Client(second.url);
    again.cookies = client.cookies;
    expect((await again.get('/api/me')).status).toBe(200);
    expect((await again.get('/api/setup')).body.needed).toBe(false);
    await second.end();
    rmSync(folder, { recursive: true, force: true });
  });

  it('is refused when it is short', async () => {
    await expect(startTestServer({ secret: 'short' })).rejects.toThrow(/32/);
  });
});

describe('ids', () => {
  it('are UUIDv7 (RFC 9562): version, variant, time, and in order within a millisecond', () => {
    const at = 0x017f22e279b0; // the time of RFC 9562, appendix A.6
    const newId = createIdMaker(() => at);
    const ids = Array.from({ length: 10_000 }, newId);
    expect(ids[0]).toMatch(/^017f22e2-79b0-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    expect(ids.toSorted()).toEqual(ids);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('stay in order when the clock is put back', () => {
    let now = 2_000_000_000_000;
    const newId = createIdMaker(() => now);
    const before = newId();
    now -= 60_000;
    expect(newId() > before).toBe(true);
  });
});
