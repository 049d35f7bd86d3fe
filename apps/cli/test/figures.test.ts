import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { generateDemo } from '@sillwatch/demo';
import { openLedger } from '@sillwatch/ledger';
import { getDay } from '@sillwatch/trade';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'sillwatch-figures-'));
const at = ['--data', folder, '--as-of', '2026-11-25'];

beforeAll(async () => {
  const { facts } = generateDemo({ seed: 7, today: getDay('2026-11-25'), properties: 16 });
  mkdirSync(folder, { recursive: true });
  const ledger = await openLedger({ url: join(folder, 'sillwatch.db') });
  for (let from = 0; from < facts.length; from += 5000)
    await ledger.append('firm-demo', facts.slice(from, from + 5000), '2026-11-25T11:00:00Z');
  await ledger.close();
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const json = async (args: readonly string[]): Promise<Record<string, unknown>> => {
  const { code, out, err } = await run([...args, ...at, '--json']);
  expect(err).toBe('');
  expect(code).toBe(0);
  const value: unknown = JSON.parse(out);
  if (typeof value !== 'object' || value === null) throw new Error('no object');
  return { ...value };
};

describe('sillwatch load', () => {
  it('for a branch and a week: what to take, why, and the tools', async () => {
    const { code, out } = await run(['load', '--branch', 'branch-upland', '--until', '2026-12-12', ...at]);
    expect(code).toBe(0);
    expect(out).toMatch(/\d+ visits, \d+ stations; each part runs out with a chance of at most 5 %/);
    expect(out).toMatch(/take +part +certain +expected +runs out/);
    expect(out).toContain('station key');
  });

  it('takes no less where less risk is accepted, and every take keeps the promise', async () => {
    const take = async (chance: string) => {
      const { parts } = await json(['load', '--until', '2026-12-20', '--chance', chance]);
      if (!Array.isArray(parts)) throw new Error('no parts');
      for (const one of parts) expect(one.chanceShort).toBeLessThanOrEqual(Number(chance) / 100);
      return parts.reduce((sum: number, one) => sum + Number(one.take), 0);
    };
    const five = await take('5');
    expect(five).toBeGreaterThan(20);
    expect(await take('1')).toBeGreaterThan(five);
  });

  it('for properties named', async () => {
    const { visits } = await json(['load', '--property', 'property-007']);
    expect(visits).toBe(1);
  });

  it('for stock: what is on order comes off what is ordered, until it came or was cancelled', async () => {
    const order = (...args: readonly string[]) => run(['order', ...args, '--data', folder]);
    const base = async () => {
      const { parts } = await json(['load', '--stock', '--branch', 'branch-upland']);
      if (!Array.isArray(parts)) throw new Error('no parts');
      return parts.find((one) => one.part === 'base-monitor');
    };
    const before = await base();
    const ordering = ['--branch', 'branch-upland', '--part', 'base-monitor'];
    const { code, out } = await order('new', ...ordering, '--count', '300', '--reference', 'our 17');
    expect(code).toBe(0);
    expect(out).toContain('300 of');
    const waiting = await base();
    expect(waiting.onOrder).toBe(before.onOrder + 300);
    expect(waiting.orderNow).toBe(0);
    expect((await order()).out).toMatch(/our 17/);
    expect((await order('came', 'our 17', '--count', '120', '--lot', 'L1')).out).toContain('180 are still');
    expect((await base()).onHand).toBe(before.onHand + 120);
    expect((await order('cancel', 'our 17')).err).toContain('--why');
    expect((await order('cancel', 'our 17', '--why', 'no longer made')).code).toBe(0);
    expect((await base()).onOrder).toBe(before.onOrder);
    const gone = await order('came', 'our 17');
    expect(gone.code).toBe(3);
    expect(gone.err).toContain('no one open order');
    const typo = await order('new', ...ordering, '--count', 'some');
    expect(typo.code).toBe(2);
    expect(typo.err).toContain('--count');
    expect((await order('new', '--branch', 'nowhere', '--part', 'base-monitor')).err).toContain(
      'branch-upland',
    );
  });

  it('for stock: names what has no lead time', async () => {
    const { code, out } = await run(['load', '--stock', '--branch', 'branch-upland', ...at]);
    expect(code).toBe(0);
    expect(out).toContain('branch-upland');
    expect(out).toMatch(/order now|No lead time is known of/);
  });

  it.each([
    [['load', '--chance', '0'], 2, 'such as 5 or 1'],
    [['load', '--chance', 'few'], 2, 'percentage'],
    [['load', '--branch', 'branch-x'], 3, 'branch-upland'],
    [['load', '--stock'], 2, '--branch'],
    [['load', '--technician', 'nobody'], 3, '--property'],
    [['load', '--until', '2026-11-01'], 2, 'later day'],
  ])('%j exits %i and says what to do', async (args, code, remedy) => {
    const outcome = await run([...args, ...at]);
    expect(outcome.code).toBe(code);
    expect(outcome.err).toContain(remedy);
  });
});

describe('sillwatch figures', () => {
  it.each([
    ['book', /late work +\d+ at \d+ properties\.[\s\S]*branch +not opened +of[\s\S]*branch-upland/],
    ['efficacy', /From baiting to clear, structures:[\s\S]*monitors lost[\s\S]*Hits are those of stations\./],
    ['risk', /never a reason to skip a due visit[\s\S]*(said +came|Too little)/],
    ['minutes', /yearly service +4\.\d/],
    ['bait', /Demo Bait \(invented\)/],
    ['criteria', /no registration study/],
  ] as const)('%s', async (name, expected) => {
    const { code, out } = await run(['figures', name, ...at]);
    expect(code).toBe(0);
    expect(out).toMatch(expected);
    expect(out).not.toMatch(/\{\w+\}|NaN|undefined/);
    expect(Object.keys(await json(['figures', name])).length).toBeGreaterThan(1);
  });

  it('book counts the late work that due lists', async () => {
    const { late } = await json(['figures', 'book']);
    const { rows } = await json(['due']);
    if (!Array.isArray(rows) || typeof late !== 'object' || late === null || !('count' in late))
      throw new Error('no rows');
    const listed = rows
      .filter((row) => row.standing === 'late')
      .reduce((sum: number, row) => sum + Number(row.stations), 0);
    expect(late.count).toBe(listed);
  });

  it.each([
    [['figures', 'luck'], 2, 'efficacy'],
    [['figures', 'risk', '--most', 'all'], 2, 'whole number'],
    [['figures', 'book', '--branch', 'branch-x'], 3, 'branch-harbour'],
  ])('%j exits %i and says what to do', async (args, code, remedy) => {
    const outcome = await run([...args, ...at]);
    expect(outcome.code).toBe(code);
    expect(outcome.err).toContain(remedy);
  });
});

describe('sillwatch soil', () => {
  const soil = (...args: readonly string[]) => run(['soil', ...args, '--data', folder]);
  const numbers = [
    '--mean',
    '16',
    '--amplitude',
    '10',
    '--coldest',
    '01-23',
    '--depth',
    '0',
    '--diffusivity',
    '0.5',
  ];

  it('is off until all numbers are entered with their source, and can be turned off', async () => {
    expect((await soil('branch-upland')).out).toContain('off');
    const half = await soil('branch-upland', ...numbers);
    expect(half.code).toBe(2);
    expect(half.err).toContain('--forage-from, --source');
    const rest = ['--forage-from', '16', '--source', 'invented for a test'];
    const { code, out } = await soil('branch-upland', ...numbers, ...rest);
    expect(code).toBe(0);
    expect(out).toContain('from 04-25 to 10-23: 182 days');
    expect(out).toContain('skips no due visit');
    expect((await soil('branch-upland')).out).toContain('182 days');
    const wrong = await soil('branch-upland', ...numbers.with(5, '02-30'), ...rest);
    expect(wrong.code).toBe(1);
    expect(wrong.err).toContain('MM-DD');
    expect((await soil('branch-upland', '--off')).out).toContain('off');
    expect((await soil('nowhere')).code).toBe(3);
  });
});
