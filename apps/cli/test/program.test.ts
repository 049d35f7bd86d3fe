import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { generateDemo } from '@sillwatch/demo';
import { openLedger } from '@sillwatch/ledger';
import { type AnyFact, foldProperty, getDay } from '@sillwatch/trade';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readText, run } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'sillwatch-cli-'));
const data = join(folder, 'data');
const samples = join(import.meta.dirname, '../../../packages/paper/samples');
const at = ['--data', data];
let facts: readonly AnyFact[] = [];

beforeAll(async () => {
  const demo = generateDemo({ seed: 7, today: getDay('2026-11-25'), properties: 8 });
  facts = demo.facts;
  await fill(data, facts);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function fill(into: string, content: readonly AnyFact[]): Promise<void> {
  const { mkdirSync } = await import('node:fs');
  mkdirSync(into, { recursive: true });
  const ledger = await openLedger({ url: join(into, 'sillwatch.db') });
  const verdicts = await ledger.append('firm-demo', content, '2026-11-25T11:00:00Z');
  expect(verdicts.filter((one) => one.verdict === 'refused')).toEqual([]);
  await ledger.close();
}

/** A station of the demo that holds no bait and was opened before. */
function monitoredStation(): {
  readonly property: string;
  readonly station: string;
  readonly number: number;
} {
  for (const [property, own] of Map.groupBy(facts, (fact) => fact.property ?? '')) {
    const state = foldProperty(own);
    const station = state.stations.find(
      (one) =>
        one.inService && one.phase === 'monitoring' && one.model === 'two-part' && one.firstHitOn === null,
    );
    if (station !== undefined) return { property, station: station.station, number: station.number };
  }
  throw new Error('the demo has no such station');
}

describe('help and usage', () => {
  it('teaches: every command has a purpose and an example', async () => {
    const help = await run(['--help']);
    expect(help.code).toBe(0);
    const commands = [...help.out.matchAll(/^ {2}([a-z]+)[ [<]/gm)]
      .map((match) => match[1] ?? '')
      .filter((name) => name !== 'help');
    expect(commands).toEqual(
      expect.arrayContaining([
        'serve',
        'demo',
        'import',
        'due',
        'steps',
        'record',
        'property',
        'report',
        'export',
        'verify',
        'backup',
        'restore',
      ]),
    );
    for (const command of commands) {
      const own = await run([command, '--help']);
      expect(own.out, command).toMatch(/Example:\n {2}\$ sillwatch /);
      expect(own.out, command).toMatch(/--json|ring/);
    }
  });

  it.each([
    [[], 2, ''],
    [['duw'], 2, 'due'],
    [['due', '--as-of', '2026-02-30', ...at], 2, 'YYYY-MM-DD'],
    [['steps', 'property-001', '1', '--termites', 'many', ...at], 2, 'live on bait'],
    [['property', 'nowhere', ...at], 3, 'sillwatch property'],
    [['due', '--data', join(folder, 'nothing')], 3, '--data'],
    [['due', '--firm', 'firm-x', ...at], 3, 'firm-demo'],
    [['report', 'poem', ...at], 2, 'applications'],
  ])('%j exits %i and says what to do', async (args, code, remedy) => {
    const outcome = await run(args);
    expect(outcome.code).toBe(code);
    expect(outcome.err + outcome.out).toContain(remedy);
  });
});

describe('due, property and steps', () => {
  it('due: the same as the rules say, as text and as JSON', async () => {
    const json = await run(['due', '--json', ...at]);
    const value: unknown = JSON.parse(json.out);
    expect(json.code).toBe(0);
    expect(value).toMatchObject({ asOf: '2026-11-25', rows: expect.any(Array) });
    const text = await run(['due', ...at]);
    expect(text.out).toMatch(/2026-11-25: work at \d+ properties/);
    expect(text.out.split('\n').filter((line) => /^(late|past target|open)/.test(line))).toHaveLength(
      Object(value).rows.length,
    );
  });

  it('due: late only is late only, and more comes up to a later day', async () => {
    const late = await run(['due', '--late', '--json', ...at]);
    for (const row of Object(JSON.parse(late.out)).rows) expect(row.standing).toBe('late');
    const today = await run(['due', '--json', ...at]);
    const year = await run(['due', '--until', '2027-11-25', '--json', ...at]);
    expect(Object(JSON.parse(year.out)).rows.length).toBeGreaterThan(
      Object(JSON.parse(today.out)).rows.length,
    );
  });

  it('property: by words of its name, with its stations and its history', async () => {
    const list = await run(['property', '--json', ...at]);
    const [first] = JSON.parse(list.out);
    const one = await run(['property', first.property, '--history', ...at]);
    expect(one.out).toContain(first.name);
    expect(one.out).toContain('station installed');
  });

  it('steps at a feeding station: look only, whatever the task, and the yearly service is carried over', async () => {
    const { property, number } = monitoredStation();
    const outcome = await run([
      'steps',
      property,
      String(number),
      '--task',
      'yearly service',
      '--termites',
      'live on bait',
      '--bait-left',
      'half',
      '--monitor',
      'eaten',
      '--json',
      ...at,
    ]);
    const value = JSON.parse(outcome.out);
    const steps = value.steps.map((step: { id: string }) => step.id);
    expect(value.carriedOver).toBe(true);
    expect(steps).toContain('look only');
    for (const step of steps) expect(step).not.toMatch(/lift the base|clear debris|dig out|fit a new base/);
    const text = await run([
      'steps',
      property,
      String(number),
      '--task',
      'yearly service',
      '--termites',
      'live on bait',
      '--bait-left',
      'half',
      ...at,
    ]);
    expect(text.out).toMatch(/why: /);
    expect(text.out).toMatch(/invented/);
  });
});

describe('record', () => {
  it('appends what was seen, with the steps that the rules gave, once', async () => {
    const { property, number, station } = monitoredStation();
    const recorded = await run([
      'record',
      property,
      String(number),
      '--by',
      'person-harbour',
      '--json',
      ...at,
    ]);
    expect([recorded.code, Object(JSON.parse(recorded.out)).verdict.verdict]).toEqual([0, 'accepted']);
    const shown = await run(['property', property, '--history', '--json', ...at]);
    const history: AnyFact[] = Object(JSON.parse(shown.out)).facts;
    expect(history.filter((fact) => fact.station === station && fact.device === 'terminal')).toHaveLength(1);
  });

  it('refuses bait without its legal record, names the field, and keeps nothing', async () => {
    const { property, number } = monitoredStation();
    const args = [
      'record',
      property,
      String(number),
      '--by',
      'person-harbour',
      '--termites',
      'live on monitor',
      '--monitor',
      'eaten',
      ...at,
    ];
    const before = await run(['export', ...at]);
    const refused = await run(args);
    expect(refused.code).toBe(1);
    expect(refused.err).toMatch(/applicatorName.*\n.*7 CFR 110\.3/);
    expect((await run(['export', ...at])).out).toBe(before.out);
    const taken = await run([...args, '--applicator', 'Marit Underhay', '--certification', 'ZZ-0003']);
    expect(taken.code).toBe(0);
    const csv = await run(['report', 'applications', '--format', 'csv', '--from', '2026-11-25', ...at]);
    expect(csv.out).toContain('Marit Underhay');
    expect(csv.out).toContain('99999-999');
    const nowhere = await run(['report', 'applications', '--format', 'csv', '--property', 'no such', ...at]);
    expect(nowhere).toMatchObject({ code: 3, out: '' });
    expect(nowhere.err).toContain('no one property "no such"');
  });
});

describe('import', () => {
  const files = ['properties-invented.csv', 'stations-invented.csv', 'visits-invented.csv'].map((name) =>
    join(samples, name),
  );
  const mapping = ['--mapping', join(samples, 'mapping-invented.json')];

  it('reports every problem and appends nothing; a dry run appends nothing either; then all of it, once', async () => {
    const before = (await run(['export', ...at])).out;
    const bad = await run(['import', ...files, ...at]);
    expect(bad.code).toBe(1);
    expect(bad.out).toMatch(/Nothing was imported: \d+ problems/);
    const dry = await run(['import', ...files, ...mapping, '--dry-run', ...at]);
    expect(dry.out).toMatch(/Would import 24 entries/);
    expect((await run(['export', ...at])).out).toBe(before);
    expect((await run(['import', ...files, ...mapping, ...at])).out).toMatch(/Imported 24 entries/);
    expect((await run(['import', ...files, ...mapping, ...at])).out).toMatch(
      /Imported 0 entries.*17 rows say what is recorded already/,
    );
  });

  it('is listed and taken back with a reason, all of it, and the same file then comes in anew', async () => {
    const before = JSON.parse((await run(['property', '--json', ...at])).out);
    const listed = JSON.parse((await run(['import', '--list', '--json', ...at])).out);
    const [{ id, facts }] = listed.imports;
    expect(facts).toBe(24);
    expect((await run(['import', '--list', ...at])).out).toContain(id);
    expect(await run(['import', '--undo', id, ...at])).toMatchObject({ code: 2 });
    expect((await run(['import', '--undo', '1-2', '--why', 'wrong sheet', ...at])).code).toBe(3);
    const back = await run(['import', '--undo', id, '--why', 'the wrong sheet', ...at]);
    expect(back.out, back.err).toMatch(/Taken back: 24 entries withdrawn, 0 were before\./);
    const after = JSON.parse((await run(['property', '--json', ...at])).out);
    expect(after).not.toEqual(before);
    expect((await run(['import', '--list', ...at])).out).toMatch(/taken back\n[\s\S]*2026-/);
    expect((await run(['verify', ...at])).code).toBe(0);
    expect((await run(['import', ...files, ...mapping, ...at])).out).toMatch(/Imported \d\d entries/);
    for (const wrong of [['import'], ['import', '--list', '--undo', id]])
      expect((await run([...wrong, ...at])).code).toBe(2);
  });

  it('writes the guess as a mapping that can be given back, and names a broken one', async () => {
    const saved = join(folder, 'map.json');
    await run(['import', ...files, '--save-mapping', saved, '--dry-run', ...at]);
    expect(JSON.parse(readText(saved))).toMatchObject({ dateOrder: 'mdy', sheets: expect.any(Array) });
    writeFileSync(saved, '{ "dateOrder": "sometimes" }');
    const broken = await run(['import', ...files, '--mapping', saved, ...at]);
    expect([broken.code, broken.err]).toEqual([2, expect.stringMatching(/dateOrder.*\n.*mdy, dmy, ymd/)]);
  });
});

describe('papers', () => {
  it('a visit report as HTML and PDF, a station list as CSV', async () => {
    const { property } = monitoredStation();
    const shown = Object(JSON.parse((await run(['property', property, '--json', ...at])).out));
    const { visit } = shown.visits[0];
    expect((await run(['report', 'visit', visit, ...at])).out).toMatch(/^<!doctype html>/i);
    const pdf = join(folder, 'visit.pdf');
    await run(['report', 'visit', visit, '--format', 'pdf', '--out', pdf, ...at]);
    expect(readFileSync(pdf).subarray(0, 5).toString()).toBe('%PDF-');
    const csv = await run(['report', 'stations', property, '--format', 'csv', ...at]);
    expect(csv.out.trim().split('\r\n')).toHaveLength(shown.stations.length + 1);
    expect((await run(['report', 'visit', visit, '--format', 'pdf', ...at])).err).toMatch(/--out/);
    expect((await run(['report', 'visit', visit, '--format', 'csv', ...at])).code).toBe(2);
  });
});

describe('keeping', () => {
  it('export is one entry a line, in order, without gaps', async () => {
    const lines = (await run(['export', ...at])).out
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(lines.map((line) => line.receipt.seq)).toEqual(lines.map((_, index) => index + 1));
  });

  it('backup and restore into an empty folder, and never over entries', async () => {
    const file = join(folder, 'ledger.sillwatch');
    expect((await run(['backup', file, ...at])).code).toBe(0);
    const fresh = join(folder, 'fresh');
    expect((await run(['restore', file, '--data', fresh])).out).toMatch(/every chain is sound/);
    expect((await run(['export', '--data', fresh])).out).toBe((await run(['export', ...at])).out);
    expect((await run(['restore', file, '--data', fresh])).err).toMatch(/not empty/);
    expect((await run(['restore', join(folder, 'none'), '--data', join(folder, 'f2')])).code).toBe(3);
  });

  it('verify is sound, and names the entry that somebody changed in the database', async () => {
    expect((await run(['verify', ...at])).out).toMatch(/the chain is sound/);
    const spoilt = join(folder, 'spoilt');
    await fill(spoilt, facts.slice(0, 50));
    const database = new DatabaseSync(join(spoilt, 'sillwatch.db'));
    const tables = database
      .prepare("select name from sqlite_master where type = 'table' and sql like '%hash%'")
      .all();
    const name = tables.map((table) => String(table['name'])).find((table) => /fact/.test(table));
    const columns = database
      .prepare(`pragma table_info(${name})`)
      .all()
      .map((column) => String(column['name']));
    const text = columns.find((column) => /text|content|json/.test(column));
    database.exec(`update ${name} set ${text} = replace(${text}, 'person-', 'persom-') where seq = 30`);
    database.close();
    const broken = await run(['verify', '--data', spoilt]);
    expect([broken.code, broken.out]).toEqual([1, expect.stringMatching(/breaks at entry 30/)]);
  });

  it('rebuild changes nothing that can be seen', async () => {
    const before = (await run(['due', '--json', ...at])).out;
    expect((await run(['rebuild', ...at])).code).toBe(0);
    expect((await run(['due', '--json', ...at])).out).toBe(before);
  });

  it('shows progress to a person and none in a pipe', async () => {
    expect((await run(['verify', ...at], { terminal: true })).err).toMatch(/entries \[#/);
    expect((await run(['verify', ...at])).err).toBe('');
    expect(existsSync(data)).toBe(true);
  });
});
