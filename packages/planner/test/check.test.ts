import { checkProblem, createSolver, type Job, type Problem, type Shift } from '@sillwatch/planner';
import { describe, expect, test } from 'vitest';

const shift: Shift = {
  day: 0,
  startPlace: 0,
  endPlace: 0,
  startSeconds: 28_800,
  regularEndSeconds: 57_600,
  latestEndSeconds: 61_200,
  useCost: 0,
  secondCost: 0,
  overtimeSecondCost: 1,
};
const job: Job = {
  name: 'Oak Street',
  place: 1,
  serviceSeconds: 1800,
  days: [{ day: 0, cost: 0 }],
  windows: [],
  skills: 0,
  load: 0,
};
const sound: Problem = {
  days: 1,
  travel: { kind: 'matrix', places: 2, seconds: Int32Array.of(0, 600, 600, 0) },
  jobs: [job],
  vehicles: [{ name: 'Van A', skills: 0, capacity: 10, shifts: [shift] }],
};
const withJob = (change: Partial<Job>): Problem => ({ ...sound, jobs: [{ ...job, ...change }] });
const withShift = (change: Partial<Shift>): Problem => ({
  ...sound,
  vehicles: [{ name: 'Van A', skills: 0, capacity: 10, shifts: [{ ...shift, ...change }] }],
});

test('a sound problem has no fault', () => expect(checkProblem(sound)).toEqual([]));

describe('refused at the door, culprit named', () => {
  const seconds = Int32Array.of(0, 600, 600);
  const cases: readonly (readonly [string, Problem, string, string])[] = [
    [
      'a matrix that is not square',
      { ...sound, travel: { kind: 'matrix', places: 2, seconds } },
      'matrixNotSquare',
      'travel',
    ],
    [
      'a negative leg',
      { ...sound, travel: { kind: 'matrix', places: 2, seconds: Int32Array.of(0, -1, 1, 0) } },
      'outOfRange',
      'travel',
    ],
    [
      'a leg above the most that was promised',
      {
        ...sound,
        travel: {
          kind: 'function',
          places: 2,
          seconds: () => 601,
          most: 600,
          x: Float64Array.of(0, 1),
          y: Float64Array.of(0, 1),
        },
      },
      'outOfRange',
      'travel',
    ],
    [
      'a vehicle without a shift',
      { ...sound, vehicles: [{ name: 'Van A', skills: 0, capacity: 1, shifts: [] }] },
      'vehicleWithoutHours',
      'vehicle 0 (Van A)',
    ],
    [
      'a shift of no length',
      withShift({ latestEndSeconds: 28_800 }),
      'vehicleWithoutHours',
      'vehicle 0 (Van A), day 0',
    ],
    ['a shift on an unknown day', withShift({ day: 3 }), 'dayUnknown', 'vehicle 0 (Van A), day 3'],
    [
      'a shift from an unknown place',
      withShift({ startPlace: 9 }),
      'placeUnknown',
      'vehicle 0 (Van A), day 0',
    ],
    ['a fraction of a second', withJob({ serviceSeconds: 0.5 }), 'notWhole', 'job 0 (Oak Street)'],
    [
      'a window upside down',
      withJob({ windows: [{ open: 9, close: 8 }] }),
      'windowUpsideDown',
      'job 0 (Oak Street)',
    ],
    [
      'windows out of order',
      withJob({
        windows: [
          { open: 8, close: 9 },
          { open: 1, close: 2 },
        ],
      }),
      'windowsOutOfOrder',
      'job 0 (Oak Street)',
    ],
    [
      'an unknown promised vehicle',
      withJob({ fixed: { vehicle: 4 } }),
      'vehicleUnknown',
      'job 0 (Oak Street)',
    ],
    ['an unknown frozen job', withShift({ frozen: [7] }), 'frozenJobUnknown', 'vehicle 0 (Van A), day 0'],
    ['a job frozen twice', withShift({ frozen: [0, 0] }), 'frozenJobTwice', 'vehicle 0 (Van A), day 0'],
    [
      'a frozen job outside its window',
      { ...withShift({ frozen: [0] }), jobs: [{ ...job, windows: [{ open: 0, close: 100 }] }] },
      'frozenOutOfTime',
      'vehicle 0 (Van A), day 0',
    ],
    [
      'a longest time out of nothing',
      withShift({ longestSeconds: 0 }),
      'outOfRange',
      'vehicle 0 (Van A), day 0',
    ],
    [
      'a longest time out that is not whole',
      withShift({ longestSeconds: 0.5 }),
      'notWhole',
      'vehicle 0 (Van A), day 0',
    ],
    [
      'a frozen start that is out too long',
      withShift({ frozen: [0], longestSeconds: 2999 }),
      'frozenOutOfTime',
      'vehicle 0 (Van A), day 0',
    ],
    [
      'a break after the shift',
      withShift({ break: { earliestSeconds: 61_000, latestSeconds: 62_000, seconds: 1800, paid: true } }),
      'breakOutsideShift',
      'vehicle 0 (Van A), day 0',
    ],
    [
      'a break upside down',
      withShift({ break: { earliestSeconds: 43_200, latestSeconds: 43_000, seconds: 1800, paid: true } }),
      'windowUpsideDown',
      'vehicle 0 (Van A), day 0',
    ],
    [
      'a break of half a second',
      withShift({ break: { earliestSeconds: 43_200, latestSeconds: 45_000, seconds: 0.5, paid: true } }),
      'notWhole',
      'vehicle 0 (Van A), day 0',
    ],
    [
      'a window of one day upside down',
      withJob({ days: [{ day: 0, cost: 0, windows: [{ open: 9, close: 8 }] }] }),
      'windowUpsideDown',
      'job 0 (Oak Street), day 0',
    ],
    [
      'a promised start before midnight',
      withJob({ fixed: { startSeconds: -60 } }),
      'outOfRange',
      'job 0 (Oak Street)',
    ],
    [
      'a frozen start with no room for its break',
      {
        ...withShift({
          frozen: [0],
          break: { earliestSeconds: 30_000, latestSeconds: 30_000, seconds: 600, paid: true },
        }),
        jobs: [{ ...job, serviceSeconds: 3600, windows: [{ open: 28_800, close: 29_500 }] }],
      },
      'frozenOutOfTime',
      'vehicle 0 (Van A), day 0',
    ],
    [
      'a group with an unknown job',
      { ...sound, groups: [{ name: 'Oak', jobs: [3], patterns: [[0]] }] },
      'groupJobUnknown',
      'group 0 (Oak)',
    ],
    [
      'a job in two groups',
      {
        ...sound,
        groups: [
          { name: 'Oak', jobs: [0], patterns: [[0]] },
          { name: 'Elm', jobs: [0], patterns: [[0]] },
        ],
      },
      'groupJobTwice',
      'group 1 (Elm)',
    ],
    [
      'a pattern with a day too many',
      { ...sound, days: 2, groups: [{ name: 'Oak', jobs: [0], patterns: [[0, 1]] }] },
      'patternMisfit',
      'group 0 (Oak)',
    ],
    [
      'a group without a pattern',
      { ...sound, groups: [{ name: 'Oak', jobs: [0], patterns: [] }] },
      'patternMisfit',
      'group 0 (Oak)',
    ],
    ['totals that overflow', withJob({ penalty: Number.MAX_SAFE_INTEGER }), 'totalsOverflow', 'jobs'],
  ];
  test.each(cases)('%s', (_, problem, code, culprit) => {
    const fault = checkProblem(problem).find((found) => found.code === code);
    expect(fault).toMatchObject({ severity: 'refused', culprit });
    expect(() => createSolver(problem, 1)).toThrow(culprit);
  });
});

describe('left out, with the reason, while the rest is planned', () => {
  const other: Job = { ...job, name: 'Elm Street' };
  const cases: readonly (readonly [string, Partial<Job>, string | undefined, string])[] = [
    ['no day allowed', { days: [] }, 'noDayAllowed', 'noShiftOnItsDays'],
    ['a window that no day meets', { windows: [{ open: 0, close: 3600 }] }, 'windowNoDayMeets', 'outOfReach'],
    [
      'a window of its one day that the day does not meet',
      { days: [{ day: 0, cost: 0, windows: [{ open: 0, close: 3600 }] }] },
      'windowNoDayMeets',
      'outOfReach',
    ],
    [
      'a promised start before anybody is there',
      { fixed: { startSeconds: 29_000 } },
      undefined,
      'outOfReach',
    ],
    ['a skill that nobody has', { skills: 4 }, undefined, 'noVehicleWithSkills'],
    ['a load above every vehicle', { load: 11 }, undefined, 'tooMuchLoad'],
    [
      'a window met only by leaving early',
      { windows: [{ open: 28_800, close: 28_900 }] },
      undefined,
      'outOfReach',
    ],
    ['a penalty below the cost', { penalty: 1, days: [{ day: 0, cost: 50 }] }, undefined, 'notWorthIt'],
  ];
  test.each(cases)('%s', (_, change, code, reason) => {
    const problem: Problem = {
      ...sound,
      jobs: [
        { ...other, load: 1, penalty: 100_000 },
        { ...job, load: 0, ...change },
      ],
    };
    const faults = checkProblem(problem);
    expect(faults.map((fault) => fault.code)).toEqual(code === undefined ? [] : [code]);
    for (const fault of faults)
      expect(fault).toMatchObject({ severity: 'leftOut', culprit: 'job 1 (Oak Street)' });
    const solver = createSolver(problem, 1);
    solver.step(200);
    expect(solver.best().unassigned).toEqual([{ job: 1, reason }]);
  });

  test('two jobs that must be done, and room for one', () => {
    const long: Job = { ...job, serviceSeconds: 20_000 };
    const solver = createSolver({ ...sound, jobs: [long, { ...long, name: 'Elm Street' }] }, 1);
    solver.step(200);
    expect(solver.best().missed).toBe(1);
    expect(solver.best().unassigned[0]?.reason).toBe('noRoom');
  });
});
