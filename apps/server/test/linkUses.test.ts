import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openLinkUses } from '../src/links/linkUses.ts';
import { findTestDatabase, type TestDatabase } from './support/postgres.ts';

const MINUTE = 60_000;

let database: TestDatabase | undefined;
beforeAll(async () => {
  database = await findTestDatabase();
});
afterAll(() => database?.stop());

/** The same promises on both databases. */
describe.each(['sqlite', 'postgres'] as const)('the last use of secret addresses on %s', (kind) => {
  it('is kept by firm, to some minutes, and outlives the process', async (context) => {
    if (kind === 'postgres' && database === undefined) return context.skip();
    const url = kind === 'postgres' && database !== undefined ? database.url : ':memory:';
    const begun = Date.UTC(2026, 10, 25, 12);
    const uses = await openLinkUses(url);
    await uses.note('firm-a', 'one', begun);
    await uses.note('firm-a', 'one', begun + MINUTE);
    await uses.note('firm-b', 'one', begun + 2 * MINUTE);
    expect([...(await uses.list('firm-a'))]).toEqual([['one', '2026-11-25T12:00:00.000Z']]);
    expect([...(await uses.list('firm-b'))]).toEqual([['one', '2026-11-25T12:02:00.000Z']]);
    await uses.note('firm-a', 'one', begun + 5 * MINUTE);
    expect((await uses.list('firm-a')).get('one')).toBe('2026-11-25T12:05:00.000Z');
    expect((await uses.list('firm-c')).size).toBe(0);
    if (kind === 'postgres') {
      const other = await openLinkUses(url);
      expect((await other.list('firm-a')).get('one')).toBe('2026-11-25T12:05:00.000Z');
      await other.close();
    }
    await uses.close();
  });
});
