import { getDay } from '@sillwatch/trade/units';
import { expect, test } from 'vitest';
import { guessMapping, knownOf, overrideMapping, planImport, readTable } from '../../src/intake/index.ts';

/** Invented branches; two of them share a name. */
const BRANCHES = {
  'branch-harbour': 'Señal Harbour',
  'branch-upland': 'Upland',
  'branch-east': 'Twin',
  'branch-west': 'Twin',
  'north-1': 'Far North',
  'branch-n': 'North 1',
};

/** A sheet with one property, a row for each way its branch is called. */
function planFor(...called: readonly string[]) {
  const rows = called.map((branch) => `A-1,Marrow,1 Gull Court,Alder Ferry,${branch}`);
  const text = `Account No,Property Name,Street,City,Branch\n${rows.join('\n')}\n`;
  const result = readTable(new TextEncoder().encode(text), 'book.csv');
  if (!result.ok) throw new Error(result.problem.reason);
  const laid = overrideMapping(guessMapping([result.table]).mapping, {
    defaults: { timeZone: 'America/New_York', profile: 'demo' },
  });
  if (!laid.ok) throw new Error(JSON.stringify(laid.problems));
  const branches = Object.fromEntries(
    Object.entries(BRANCHES).map(([id, name]) => [id, { branch: id, name, timeZone: 'America/New_York' }]),
  );
  return planImport({
    tables: [result.table],
    mapping: laid.mapping,
    context: {
      firm: 'firm-1',
      by: 'person-1',
      today: getDay('2026-11-26'),
      existing: [],
      findKnown: () => undefined,
      ...knownOf({ branches, profiles: {} }),
      profiles: [{ id: 'demo', name: 'Demo label (invented)' }],
    },
  });
}

test.each([
  ['its id', 'branch-upland', 'branch-upland'],
  ['its name', 'Upland', 'branch-upland'],
  ['its name in other letters', ' senal  HARBOUR ', 'branch-harbour'],
  ['the id of one of two that share a name', 'branch-west', 'branch-west'],
  ['name and id as a remedy has them', 'Upland (branch-upland)', 'branch-upland'],
  ['an id that looks like the name of another', 'north-1', 'north-1'],
])('a branch is known by %s', (_, said, id) => {
  const { problems, facts } = planFor(said);
  expect(problems).toEqual([]);
  const bodies = facts.flatMap(({ kind, body }) => (kind === 'property added' ? [body] : []));
  expect(bodies).toMatchObject([{ branch: id }]);
});

test('a name that two branches share is refused with both ids, and nothing is imported', () => {
  const { problems, facts } = planFor('Twin');
  expect(facts).toEqual([]);
  expect(problems).toMatchObject([
    {
      row: 2,
      reason: expect.stringContaining('more than one'),
      remedy: 'Use the id: branch-east or branch-west.',
    },
  ]);
});

test('what may be the id of one and the name of another is refused', () => {
  expect(planFor('North 1').problems).toMatchObject([{ remedy: 'Use the id: north-1 or branch-n.' }]);
});

test('rows of one property may call its branch by id and by name, but not call two branches', () => {
  expect(planFor('Upland', 'branch-upland').problems).toEqual([]);
  expect(planFor('Upland', 'branch-harbour').problems).toMatchObject([
    { reason: expect.stringContaining('says "Upland" for the same property') },
  ]);
});

test('an unknown branch is answered with the names and ids there are', () => {
  const [problem] = planFor('Nowhere').problems;
  expect(problem?.remedy).toContain('Señal Harbour (branch-harbour), Upland (branch-upland)');
});
