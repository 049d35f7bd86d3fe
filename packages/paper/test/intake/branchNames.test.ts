import { getDay } from '@sillwatch/trade/units';
import { expect, test } from 'vitest';
import { guessMapping, knownOf, overrideMapping, planImport, readTable } from '../../src/intake/index.ts';

/** Invented branches; two of them share a name. */
const BRANCHES = {
  'branch-harbour': 'Señal Harbour',
  'branch-upland': 'Upland',
  'branch-east': 'Twin',
  'branch-west': 'Twin',
};

function planFor(branch: string) {
  const text = `Account No,Property Name,Street,City,Branch\nA-1,Marrow,1 Gull Court,Alder Ferry,${branch}\n`;
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

test('an unknown branch is answered with the names and ids there are', () => {
  const [problem] = planFor('Nowhere').problems;
  expect(problem?.remedy).toContain('Señal Harbour (branch-harbour), Upland (branch-upland)');
});
