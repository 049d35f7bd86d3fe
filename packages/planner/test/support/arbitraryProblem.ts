import type { Group, Job, Problem, Shift, Vehicle } from '@sillwatch/planner';
import fc from 'fast-check';

/**
 * Problems of up to `most` jobs, 2 days, 2 vehicles with every feature of the contract but frozen starts; some jobs may be impossible.
 * `crooked` travel may be slower direct than by a third place: then a route may be in time only as a whole, out of reach one job at a time.
 */
export function arbitraryProblem(most: number, crooked = false): fc.Arbitrary<Problem> {
  return fc
    .record({
      jobCount: fc.integer({ min: 1, max: most }),
      days: fc.integer({ min: 1, max: 2 }),
      vans: fc.integer({ min: 1, max: 2 }),
    })
    .chain(({ jobCount, days, vans }) => {
      const places = jobCount + 2;
      const legs = fc.array(fc.integer({ min: 0, max: 40 }), {
        minLength: places * places,
        maxLength: places * places,
      });
      return fc.record({
        days: fc.constant(days),
        travel: fc.record(
          {
            kind: fc.constant('matrix' as const),
            places: fc.constant(places),
            seconds: legs.map((values) => (crooked ? Int32Array.from(values) : shortest(values, places))),
            cost: legs.map((values) => Int32Array.from(values)),
          },
          { requiredKeys: ['kind', 'places', 'seconds'] },
        ),
        jobs: fc.tuple(...Array.from({ length: jobCount }, (_, j) => arbitraryJob(j, days, vans))),
        vehicles: fc.tuple(...Array.from({ length: vans }, (_, v) => arbitraryVehicle(v, days, jobCount))),
        groups: arbitraryGroups(jobCount, days),
      });
    });
}

/** Pairs of the first jobs, on both days in one order or the other; single visits where there is one day. */
function arbitraryGroups(jobCount: number, days: number): fc.Arbitrary<readonly Group[]> {
  const size = Math.min(2, days);
  const orders =
    days === 1
      ? [[0]]
      : [
          [0, 1],
          [1, 0],
        ];
  return fc
    .array(fc.subarray(orders, { minLength: 1 }), { maxLength: Math.floor(jobCount / size) })
    .map((list) =>
      list.map((patterns, g) => ({
        name: `group ${g}`,
        jobs: Array.from({ length: size }, (_, k) => g * size + k),
        patterns,
      })),
    );
}

function arbitraryJob(index: number, days: number, vans: number): fc.Arbitrary<Job> {
  const day = fc.integer({ min: 0, max: days - 1 });
  const vehicle = fc.integer({ min: 0, max: vans - 1 });
  const window = fc
    .tuple(fc.integer({ min: 0, max: 120 }), fc.integer({ min: 0, max: 120 }))
    .map(([a, b]) => [{ open: Math.min(a, b), close: Math.max(a, b) }]);
  const twoWindows = fc
    .uniqueArray(fc.integer({ min: 0, max: 120 }), { minLength: 4, maxLength: 4 })
    .map((times) => times.sort((a, b) => a - b))
    .map(([a = 0, b = 0, c = 0, d = 0]) => [
      { open: a, close: b },
      { open: c, close: d },
    ]);
  const windows = fc.oneof(fc.constant([]), window, twoWindows);
  return fc.record(
    {
      name: fc.constant(`job ${index}`),
      place: fc.constant(index),
      serviceSeconds: fc.integer({ min: 0, max: 15 }),
      days: fc.uniqueArray(
        fc.oneof(
          fc.record({ day, cost: fc.integer({ min: 0, max: 30 }) }),
          fc.record({ day, cost: fc.integer({ min: 0, max: 30 }), windows }),
        ),
        { minLength: 1, maxLength: days, selector: (allowed) => allowed.day },
      ),
      windows,
      skills: fc.constantFrom(0, 0, 0, 1, 2),
      load: fc.integer({ min: 0, max: 3 }),
      penalty: fc.integer({ min: 0, max: 120 }),
      preferred: fc.record({ vehicle, otherwise: fc.integer({ min: 0, max: 30 }) }),
      fixed: fc.oneof(
        fc.record({ vehicle }),
        fc.record({ day }),
        fc.record({ startSeconds: fc.integer({ min: 0, max: 120 }) }),
        fc.constant({}),
      ),
    },
    { requiredKeys: ['name', 'place', 'serviceSeconds', 'days', 'windows', 'skills', 'load'] },
  );
}

function arbitraryVehicle(index: number, days: number, jobCount: number): fc.Arbitrary<Vehicle> {
  const place = fc.integer({ min: jobCount, max: jobCount + 1 });
  const rest = fc
    .record({
      from: fc.integer({ min: 20, max: 50 }),
      width: fc.constantFrom(0, 5, 30, 80),
      seconds: fc.integer({ min: 0, max: 10 }),
      paid: fc.boolean(),
    })
    .map(({ from, width, seconds, paid }) => ({
      earliestSeconds: from,
      latestSeconds: from + width,
      seconds,
      paid,
    }));
  const shift = (day: number): fc.Arbitrary<Shift> =>
    fc.record(
      {
        break: rest,
        longestSeconds: fc.integer({ min: 20, max: 120 }),
        day: fc.constant(day),
        startPlace: place,
        endPlace: place,
        startSeconds: fc.integer({ min: 0, max: 20 }),
        regularEndSeconds: fc.integer({ min: 30, max: 160 }),
        latestEndSeconds: fc.integer({ min: 60, max: 160 }),
        useCost: fc.constantFrom(0, 0, 50),
        secondCost: fc.constantFrom(0, 0, 1),
        overtimeSecondCost: fc.constantFrom(0, 0, 2),
      },
      {
        requiredKeys: [
          'day',
          'startPlace',
          'endPlace',
          'startSeconds',
          'regularEndSeconds',
          'latestEndSeconds',
          'useCost',
          'secondCost',
          'overtimeSecondCost',
        ],
      },
    );
  return fc.record({
    name: fc.constant(`van ${index}`),
    skills: fc.constantFrom(3, 3, 1, 0),
    capacity: fc.integer({ min: 3, max: 12 }),
    shifts: fc.tuple(...Array.from({ length: days }, (_, day) => shift(day))),
  });
}

/** Shortest ways between all pairs: Floyd, "Algorithm 97: shortest path", Communications of the ACM 5(6), 1962. */
function shortest(values: readonly number[], places: number): Int32Array {
  const seconds = Int32Array.from(values);
  for (let via = 0; via < places; via += 1)
    for (let from = 0; from < places; from += 1)
      for (let to = 0; to < places; to += 1) {
        const round = Number(seconds[from * places + via]) + Number(seconds[via * places + to]);
        if (round < Number(seconds[from * places + to])) seconds[from * places + to] = round;
      }
  return seconds;
}
