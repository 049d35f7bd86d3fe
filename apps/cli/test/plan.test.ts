import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { generateDemo } from '@sillwatch/demo';
import { openLedger } from '@sillwatch/ledger';
import { foldRounds, getDay, type RoundBody } from '@sillwatch/trade';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'sillwatch-cli-plan-'));
const data = join(folder, 'data');
const plan = (...more: readonly string[]): Promise<Awaited<ReturnType<typeof run>>> =>
  run(['plan', '--data', data, '--branch', 'branch-upland', '--weeks', '8', '--iterations', '400', ...more]);

beforeAll(async () => {
  const { facts } = generateDemo({ seed: 7, today: getDay('2026-11-25'), properties: 24 });
  mkdirSync(data, { recursive: true });
  const ledger = await openLedger({ url: join(data, 'sillwatch.db') });
  await ledger.append('firm-demo', facts, '2026-11-25T11:00:00Z');
  await ledger.close();
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Answer {
  readonly plan: { readonly rounds: readonly RoundBody[]; readonly totals: { readonly visits: number } };
  readonly comparison: { readonly last: unknown; readonly byHand: { readonly driveMetres: number } };
}

/** Without the ids that are new each time. */
function shape({ plan: { rounds } }: Answer): string {
  return JSON.stringify(
    rounds.map(({ person, day, startsAt, endsAt, visits }) => [
      [person, day, startsAt, endsAt],
      visits.map(({ property, startsAt: at, works }) => [property, at, works]),
    ]),
  );
}

async function publishedRounds(): Promise<readonly RoundBody[]> {
  const ledger = await openLedger({ url: join(data, 'sillwatch.db') });
  const facts = await ledger.listFacts('firm-demo', { kinds: ['round published'] });
  await ledger.close();
  return foldRounds(facts);
}

describe('sillwatch plan', () => {
  it('prints rounds in a hundred columns with travel, what is left out and how it compares', async () => {
    const { code, out, err } = await plan();
    expect(err).toBe('');
    expect(code).toBe(0);
    for (const line of out.split('\n')) expect(line.length, line).toBeLessThanOrEqual(100);
    expect(out).toMatch(
      /^branch-upland, 2026-11-\d\d to 2027-01-\d\d: \d+ rounds, \d+ visits\.\nTravel: great circle/,
    );
    expect(out).toMatch(
      /\n\d{4}-\d\d-\d\d {2}[A-Z][a-z]+ [A-Z][a-z]+: leaves \d\d:\d\d, back \d\d:\d\d, \d+ visits?/,
    );
    expect(out).toMatch(/Everything that is owed has its visit\.|Not planned: \d+/);
    expect(out).toMatch(/rounds {2}visits {2}miles.*\nthis plan.*\nby hand/);
  });

  it('makes the same rounds from the same seed and number of iterations', async () => {
    const [a, b] = [await plan('--json'), await plan('--json')];
    const first: Answer = JSON.parse(a.out);
    expect(first.plan.totals.visits).toBeGreaterThan(5);
    expect(shape(JSON.parse(b.out))).toBe(shape(first));
  });

  it('writes GeoJSON and a calendar', async () => {
    const geojson = join(folder, 'rounds.geojson');
    const calendar = join(folder, 'rounds.ics');
    const { out } = await plan('--json', '--geojson', geojson, '--calendar', calendar);
    const made: Answer = JSON.parse(out);
    const { features } = JSON.parse(readFileSync(geojson, 'utf8'));
    const points = features.filter(
      ({ geometry }: { geometry: { type: string } }) => geometry.type === 'Point',
    );
    expect(points).toHaveLength(made.plan.totals.visits);
    const text = readFileSync(calendar, 'utf8');
    expect(text.split('BEGIN:VEVENT').length - 1).toBe(made.plan.totals.visits);
  });

  it('publishes: the rounds are facts, the next plan starts from them, and one can be read', async () => {
    const sent = await plan('--json', '--publish', '--by', 'person-lead');
    expect(sent.err).toMatch(/^Sent out: \d+ rounds with \d+ visits; 0 earlier rounds emptied\.\n$/);
    const made: Answer = JSON.parse(sent.out);
    expect(await publishedRounds()).toEqual(made.plan.rounds);

    const again: Answer = JSON.parse((await plan('--json')).out);
    expect(again.comparison.last).not.toBeNull();
    // What was sent out keeps its ids.
    const ids = (answer: Answer): readonly string[] =>
      answer.plan.rounds.flatMap(({ visits }) => visits.map(({ visit }) => visit)).sort();
    expect(ids(again)).toEqual(ids(made));

    const [round] = made.plan.rounds;
    if (round === undefined) throw new Error('a plan without rounds');
    const shown = await run(['round', round.person, round.day, '--data', data]);
    expect(shown.code).toBe(0);
    expect(shown.out.split('\n').filter((line) => / \d+ min {2}/.test(line))).toHaveLength(
      round.visits.length,
    );
    expect(JSON.parse((await run(['round', round.person, round.day, '--data', data, '--json'])).out)).toEqual(
      round,
    );
  });

  it.each([
    [['plan', '--branch', 'nowhere'], 3, /no branch "nowhere"/],
    [['plan'], 2, /several branches/],
    [['plan', '--branch', 'branch-upland', '--weeks', '14'], 2, /--weeks "14" does not fit/],
    [['plan', '--branch', 'branch-upland', '--seconds', 'soon'], 2, /--seconds "soon" does not fit/],
    [['round', 'nobody', '2026-12-01'], 3, /no round of "nobody"/],
  ] as const)('refuses %j with the place and the remedy', async (args, code, words) => {
    const answer = await run([...args, '--data', data]);
    expect(answer.code).toBe(code);
    expect(answer.err).toMatch(words);
  });

  it('names both travel settings when both are set', async () => {
    const answer = await run(['plan', '--data', data, '--branch', 'branch-upland'], {
      env: { TRAVEL_SERVICE_URL: 'http://localhost:1', TRAVEL_ROADS: 'roads.osm.pbf' },
    });
    expect(answer.code).toBe(2);
    expect(answer.err).toMatch(/both TRAVEL_SERVICE_URL and TRAVEL_ROADS/);
  });
});
