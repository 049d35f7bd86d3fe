import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startServer } from '@sillwatch/server';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'sillwatch-own-firm-'));
const at = ['--data', folder];
const samples = join(import.meta.dirname, '../../../packages/paper/samples');
const files = ['properties-invented.csv', 'stations-invented.csv', 'visits-invented.csv'].map((name) =>
  join(samples, name),
);

/** As its owner would: set up in the browser, then go on at the terminal. */
beforeAll(async () => {
  const server = await startServer({
    port: 0,
    databaseUrl: join(folder, 'sillwatch.db'),
    log: pino({ level: 'silent' }),
  });
  const answer = await fetch(`${server.url}/api/setup`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: server.url },
    body: JSON.stringify({
      firmName: 'Own firm (invented)',
      name: 'An Owner',
      email: 'owner@demo.invalid',
      password: 'amber lantern gravel 7',
    }),
  });
  expect(answer.ok, await answer.text()).toBe(true);
  await server.stop();
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('a firm of one’s own, from nothing to today’s work', () => {
  it('says what is missing, and how to enter it', async () => {
    expect((await run(['profile', ...at])).out).toMatch(/profile --template > mine\.json/);
    expect((await run(['branch', ...at])).out).toMatch(/branch main --name/);
    const early = await run(['import', ...files, ...at]);
    expect([early.code, early.out]).toEqual([1, expect.stringMatching(/the firm has no branch yet/)]);
  });

  it('takes a branch and a label profile, and refuses what is wrong with them by name', async () => {
    expect(
      (await run(['branch', 'main', '--name', 'Main office', '--time-zone', 'Moon/Base', ...at])).err,
    ).toMatch(/IANA zone/);
    expect(
      (await run(['branch', 'main', '--name', 'Main office', '--time-zone', 'America/New_York', ...at])).code,
    ).toBe(0);
    const template = await run(['profile', '--template', ...at]);
    const file = join(folder, 'mine.json');
    const mine = { ...JSON.parse(template.out), id: 'mine', name: 'Our label (invented)' };
    writeFileSync(
      file,
      JSON.stringify({ ...mine, clearAfterChecks: { value: 0, source: '', invented: false } }),
    );
    const refused = await run(['profile', '--set', file, ...at]);
    expect([refused.code, refused.err]).toEqual([1, expect.stringMatching(/clearAfterChecks/)]);
    writeFileSync(file, JSON.stringify(mine));
    expect((await run(['profile', '--set', file, ...at])).out).toMatch(/invented numbers/);
    expect((await run(['profile', ...at])).out).toMatch(/mine +Our label \(invented\)/);
  });

  it('imports its book and has today’s work', async () => {
    const mapping = join(folder, 'mapping.json');
    writeFileSync(mapping, JSON.stringify({ defaults: { timeZone: 'America/New_York' } }));
    expect((await run(['import', ...files, '--mapping', mapping, ...at])).out).toMatch(/Imported 24 entries/);
    const due = JSON.parse((await run(['due', '--json', ...at])).out);
    expect(due.rows.length).toBeGreaterThan(2);
    expect(due.held).toBe(1);
    expect((await run(['record', 'A-100', '1', '--by', 'person-1', ...at])).code).toBe(3);
    expect((await run(['record', 'Marrow', '1', '--by', 'person-1', ...at])).code).toBe(0);
    expect((await run(['verify', ...at])).code).toBe(0);
  });
});
