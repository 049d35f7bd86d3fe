import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { generateDemo } from '@sillwatch/demo';
import { openLedger } from '@sillwatch/ledger';
import { type AnyFact, foldProperty, getDay } from '@sillwatch/trade';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'sillwatch-cli-papers-'));
const data = join(folder, 'data');
const at = ['--data', data];
const out = (name: string) => join(folder, name);
const DAY = '2026-12-01';
const DRIVER = 'person-of-the-test';
/** Two agreements that end in a month of their own: one with a Spanish-speaking customer, one without an address. */
const letters = { renewsOn: '2029-07-14', own: '', without: '', withoutName: 'Invented Reed Lot' };
/** Debian's poppler-utils and qpdf: independent readers of what was drawn. */
const hasReaders = ['pdftotext', 'qpdf'].every((tool) => spawnSync(tool, ['--version']).error === undefined);
let property = '';

beforeAll(async () => {
  const demo = generateDemo({ seed: 7, today: getDay('2026-11-25'), properties: 4 });
  const [first, second, third] = Map.groupBy(
    demo.facts.filter((fact) => fact.property !== null),
    (fact) => fact.property ?? '',
  );
  if (first === undefined) throw new Error('the demo has no property');
  property = first[0];
  letters.own = second?.[0] ?? '';
  letters.without = third?.[0] ?? '';
  const agreement = { startsOn: '2026-07-14', renewsOn: letters.renewsOn };
  const changed = (id: string, seq: number, body: object): AnyFact => ({
    id: `019ab000-0000-7000-8000-0000000000${10 + seq}`,
    firm: 'firm-demo',
    property: id,
    station: null,
    by: 'person-lead',
    device: 'test',
    seq,
    at: '2026-11-25T10:00:00-05:00',
    clock: `0017956188000${10 + seq}.00000`,
    kind: 'property changed',
    body,
  });
  const changes = [
    changed(letters.own, 2, { agreement, language: 'es-US' }),
    changed(letters.without, 3, {
      agreement,
      name: letters.withoutName,
      address: { street: '', town: '', state: 'FL', postcode: '' },
    }),
  ];
  const station = foldProperty(first[1]).stations[0];
  const round: AnyFact = {
    id: '019ab000-0000-7000-8000-000000000001',
    firm: 'firm-demo',
    property: null,
    station: null,
    by: 'person-lead',
    device: 'test',
    seq: 1,
    at: '2026-11-25T10:00:00-05:00',
    clock: '001795618800000.00000',
    kind: 'round published',
    body: {
      plan: 'plan',
      branch: 'branch-harbour',
      person: DRIVER,
      day: DAY,
      startsAt: `${DAY}T08:00:00-05:00`,
      endsAt: `${DAY}T10:00:00-05:00`,
      breakMinutes: 0,
      travel: 'great circle',
      visits: [
        {
          visit: 'visit-of-the-test',
          property,
          startsAt: `${DAY}T08:30:00-05:00`,
          endsAt: `${DAY}T09:30:00-05:00`,
          driveMinutes: 20,
          driveMetres: 12_000,
          works: [{ station: station?.station, work: 'check' }],
          asks: [],
          frozen: false,
        },
      ],
    },
  };
  mkdirSync(data, { recursive: true });
  const ledger = await openLedger({ url: join(data, 'sillwatch.db') });
  const verdicts = await ledger.append(
    'firm-demo',
    [...demo.facts, round, ...changes],
    '2026-11-25T11:00:00Z',
  );
  expect(verdicts.filter((one) => one.verdict === 'refused')).toEqual([]);
  await ledger.close();
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('papers at the terminal', () => {
  it('a work list of a round, as page, table and PDF, in two languages', async () => {
    const call = ['report', 'worklist', DRIVER, '--as-of', DAY, ...at];
    expect((await run(call)).out).toContain('1. 08:30 to 09:30: ');
    expect((await run([...call, '--format', 'csv'])).out.trim().split('\r\n')).toHaveLength(2);
    expect((await run([...call, '--lang', 'es-US'])).out).toContain('Lista de trabajo');
    expect((await run([...call, '--format', 'pdf', '--out', out('w.pdf')])).code).toBe(0);
    expect(readFileSync(out('w.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
    const none = await run(['report', 'worklist', DRIVER, '--as-of', '2026-12-02', ...at]);
    expect(none.code).toBe(3);
    expect(none.err).toContain(`There are rounds on ${DAY}`);
  });

  it('a renewal letter', async () => {
    const letter = await run(['report', 'renewal', property, ...at]);
    expect(letter.code).toBe(0);
    expect(letter.out).toContain('Your agreement comes up for renewal');
  });

  it('the letters of a month in one PDF, and in words what was not written', async () => {
    const month = letters.renewsOn.slice(0, 7);
    const call = ['report', 'renewal', '--month', month, ...at];
    const made = await run([...call, '--format', 'pdf', '--out', out('r.pdf')]);
    expect(made.code, made.err).toBe(1);
    expect(made.err).toContain(`1 letter written to ${out('r.pdf')}`);
    expect(made.err).toContain(
      `  ${letters.without} (${letters.withoutName}), ends ${letters.renewsOn}: street or town. Import the row`,
    );
    if (hasReaders) {
      expect(spawnSync('qpdf', ['--check', out('r.pdf')]).status).toBe(0);
      const text = spawnSync('pdftotext', [out('r.pdf'), '-'], { encoding: 'utf8' }).stdout;
      expect(text).toContain('Su contrato llega a su renovación');
      expect(text).toContain('Letters that were not written');
      await run([...call, '--format', 'pdf', '--letters', 'en-US', '--out', out('e.pdf')]);
      const english = spawnSync('pdftotext', [out('e.pdf'), '-'], { encoding: 'utf8' }).stdout;
      expect(english).toContain('Your agreement comes up for renewal');
    }
    const listed = JSON.parse((await run([...call, '--json'])).out);
    expect([listed.letters.length, listed.leftOut[0].gaps]).toEqual([1, ['no address']]);
  });

  it('says what is off with a month of letters', async () => {
    const call = ['report', 'renewal', ...at];
    expect(await run([...call, '--month', '2031-01'])).toMatchObject({
      code: 3,
      err: expect.stringContaining('no agreement ends in 2031-01'),
    });
    for (const wrong of ['2031-13', 'March'])
      expect((await run([...call, '--month', wrong])).err).toContain('Write it as YYYY-MM');
    const page = await run([...call, '--month', letters.renewsOn.slice(0, 7)]);
    expect([page.code, page.err]).toEqual([2, expect.stringContaining('Give --format pdf')]);
    expect((await run([...call, property, '--month', '2031-01'])).code).toBe(2);
  });

  it('labels of a property, and of new tags on a sheet given in numbers', async () => {
    const own = await run(['labels', property, '--out', out('l.pdf'), ...at]);
    expect(own.code, own.err).toBe(0);
    expect(own.err).toMatch(/\d+ labels written to/);
    const stock = { kind: 'roll', labelWidthMm: 50, labelHeightMm: 30 };
    writeFileSync(out('stock.json'), JSON.stringify(stock));
    const fresh = ['labels', '--first', '001', '--count', '3', '--out', out('n.pdf'), ...at];
    expect((await run([...fresh, '--stock', out('stock.json')])).err).toContain('3 labels');
    expect((await run([...fresh, '--stock', 'A9'])).code).toBe(2);
    writeFileSync(out('odd.json'), JSON.stringify({ ...stock, labelWidthMm: 3 }));
    expect((await run([...fresh, '--stock', out('odd.json')])).err).toContain('at least 15 mm wide');
    expect((await run(['labels', '--out', out('x.pdf'), ...at])).err).toContain('labels for what?');
  });

  it('calendars', async () => {
    const rounds = await run(['calendar', 'rounds', DRIVER, ...at]);
    expect(rounds.out).toContain('UID:visit-visit-of-the-test');
    expect(rounds.out).toContain('DTSTART:20261201T133000Z');
    const visits = await run(['calendar', 'property', property, '--as-of', '2026-11-25', ...at]);
    expect(visits.out).toContain('DTSTART;VALUE=DATE:20261201');
    expect((await run(['calendar', 'rounds', 'nobody', ...at])).code).toBe(3);
    expect((await run(['calendar', 'moon', 'x', ...at])).code).toBe(2);
  });

  it('a bundle that Python checks, and that never writes over a file', async () => {
    const file = out('record.zip');
    const made = await run(['bundle', file, '--whole', ...at]);
    expect(made.code, made.err).toBe(0);
    expect((await run(['bundle', file, ...at])).err).toContain('Name a new file');
    if (spawnSync('python3', ['--version']).status !== 0) return;
    const into = out('record');
    spawnSync('python3', ['-m', 'zipfile', '-e', file, into]);
    const check = spawnSync('python3', ['check.py'], { cwd: into, encoding: 'utf8' });
    expect(check.stderr).toBe('');
    const verified = await run(['verify', '--json', ...at]);
    expect(check.stdout).toContain(JSON.parse(verified.out).head);
  });

  it('a bundle of nothing that is there leaves no file behind', async () => {
    const answer = await run(['bundle', out('none.zip'), '--property', 'no-such-property', ...at]);
    expect(answer.code).toBe(3);
    expect(existsSync(out('none.zip'))).toBe(false);
  });
});
