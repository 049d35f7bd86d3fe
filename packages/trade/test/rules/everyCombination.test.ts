import { expect, test } from 'vitest';
import {
  type AnyRow,
  BAIT_LEFT,
  dayFromCivil,
  decideStation,
  type Finding,
  HOUSING_CONDITIONS,
  type LabelProfile,
  MONITOR_CONDITIONS,
  OCCUPANTS,
  ONE_PART,
  PHASES,
  type Phase,
  STATION_TABLES,
  STEP_IDS,
  type StationModel,
  type StationState,
  type StepId,
  type Steps,
  type StepsInput,
  stepsFor,
  stepsOf,
  TASKS,
  TERMITE_FINDINGS,
  workDone,
} from '../../src/index.ts';
import { MODELS, profileWith, stationOf } from './station.ts';

/**
 * Finding x task x model x state x profile, nothing sampled. The tables are asked at every point; the steps that follow
 * depend on the rows fired, the model, the profile's amounts and little else, so that each distinct set of these is turned
 * into steps once and held against the invariants.
 *
 * Ten million points take half a minute, so by default the product is taken in two parts that share all other axes:
 * every choice about bait and monitors with no occupants, and every occupant and number of auxiliary stations with two
 * such choices. That loses nothing as long as occupants and auxiliary stations each enter one table that no choice about
 * bait and monitors enters, which is asserted. SILLWATCH_WHOLE_SPACE=1 runs the product whole.
 * Rule: termites that are feeding are left alone (common practice, no source).
 */
const FINDINGS: readonly Finding[] = [
  { reach: 'not found', why: 'paved over' },
  { reach: 'blocked', why: 'a car on it' },
  ...TERMITE_FINDINGS.flatMap((termites) =>
    BAIT_LEFT.flatMap((baitLeft) =>
      MONITOR_CONDITIONS.flatMap((monitor) =>
        HOUSING_CONDITIONS.flatMap((housing) =>
          OCCUPANTS.map(
            (occupants): Finding => ({ reach: 'opened', termites, baitLeft, monitor, housing, occupants }),
          ),
        ),
      ),
    ),
  ),
];

const PROFILES: readonly LabelProfile[] = (['stays', 'renewed', 'withdrawn'] as const).flatMap((idleBait) =>
  (['stays', 'withdrawn'] as const).flatMap((clearBait) =>
    (['kept', 'renewed'] as const).flatMap((monitorWithSigns) =>
      [0, 2].map((auxiliaryStations) =>
        profileWith({ idleBait, clearBait, monitorWithSigns, auxiliaryStations }),
      ),
    ),
  ),
);

const ONE_SLOT_ONLY: StationModel = {
  ...ONE_PART,
  id: 'one-slot-only',
  slots: [{ id: 'only', label: 'insert', holds: ['monitor', 'bait'], isBase: true }],
};

const AUXILIARY_AND_BAITED: Partial<StationState> = {
  auxiliary: true,
  slots: [{ slot: 'cup', insert: 'bait', fittedOn: null }],
};

const HIT_ON = dayFromCivil(2025, 6, 1);

function statesOf(model: StationModel): readonly StationState[] {
  return PHASES.flatMap((phase) =>
    [false, true].flatMap((carriedOver) =>
      [false, true].map((atTheLimit) => stationOf(model, stateIn(phase, carriedOver, atTheLimit))),
    ),
  );
}

/** `atTheLimit`: the next miss is one too many, the next look without termites makes the station clear. */
function stateIn(phase: Phase, carriedOver: boolean, atTheLimit: boolean): Partial<StationState> {
  const wasHit = phase !== 'monitoring';
  return {
    phase,
    openHitOn: wasHit ? HIT_ON : null,
    firstHitOn: wasHit ? HIT_ON : null,
    carriedOverOn: carriedOver ? HIT_ON : null,
    missesInARow: atTheLimit ? 2 : 0,
    termiteFreeLooks: wasHit && atTheLimit ? 2 : 0,
    feedingSince: phase === 'feeding' ? HIT_ON : null,
  };
}

const DISTURBING: ReadonlySet<StepId> = new Set<StepId>([
  'lift the top monitor',
  'lift the base monitor, every piece of it',
  'fit a new base monitor',
  'fit a new top monitor',
  'put the monitor back',
  'clear debris from the housing',
  'dig out and set a new housing',
  'lift the bait and set it aside',
  'put the bait back',
  'withdraw bait',
  'renew bait',
  'bail out water',
  'clear soil',
  'firm the housing',
  'let occupants settle or move them',
]);

function checkInvariants(input: StepsInput, steps: Steps): void {
  const { finding, task, model } = input;
  const ids = steps.steps.map((step) => step.id);
  const opened = finding.reach === 'opened';
  const live = opened && finding.termites.startsWith('live');
  const onBait = opened && finding.termites === 'live on bait';
  const name = JSON.stringify({ finding, task, model: model.id, ids });
  const must = (truth: boolean, what: string): void => {
    if (!truth) expect.fail(`${what}: ${name}`);
  };

  must(steps.fired.length === STATION_TABLES.length, 'one row a table');
  must(
    steps.fired.every((row, i) => row.table === STATION_TABLES[i]?.id),
    'tables in their order',
  );
  must(
    ids.every((id, i) => i === 0 || STEP_IDS.indexOf(id) > STEP_IDS.indexOf(ids[i - 1] ?? id)),
    'steps in the order of work, each once',
  );
  if (live) must(!ids.some((id) => DISTURBING.has(id)), 'termites disturbed');
  if (onBait) must(ids.includes('look only') && steps.countsAsFeeding, 'feeding is only looked at');
  must(steps.countsAsHit === live, 'live termites, and only they, count as a hit');
  must(
    steps.carriedOver === (task === 'yearly service' && live),
    'carried over exactly where termites are live',
  );
  must(
    steps.yearlyServiceDone === (task === 'yearly service' && opened && !live),
    'the yearly service is done exactly where it can be',
  );
  must(
    !opened || (ids[0] === 'sweep and open' && ids.at(-1) === 'close and lock the cap'),
    'opened and closed',
  );

  const work = workDone(steps);
  if (!opened) {
    must(ids[0] === 'record why and take a photo', 'why it was not opened is recorded');
    must(
      !work.yearlyServiceDone && work.fitted.length + work.withdrawn.length === 0,
      'unopened is never done',
    );
    must(Object.keys(steps.partsUsed).length === 0 && steps.baitGrams === 0, 'unopened takes no parts');
    must(steps.next === 'missed station' || steps.next === 'replacement', 'unopened stays owed');
  }
  if (live) must(!work.baseMonitorLifted && !work.cleanedOut, 'work says disturbed');
  must(steps.replacementAsked === ids.includes('ask for a replacement'), 'replacement asked');
  must(steps.housingReplaced === ids.includes('dig out and set a new housing'), 'housing replaced');
  must(steps.auxiliaryStations > 0 === ids.includes('ask for auxiliary stations'), 'auxiliary stations');
  checkPlaces(model, steps, must);
}

function checkPlaces(model: StationModel, steps: Steps, must: (truth: boolean, what: string) => void): void {
  const sum: Record<string, number> = {};
  let bait = 0;
  for (const step of steps.steps) {
    for (const [part, count] of Object.entries(step.parts)) sum[part] = (sum[part] ?? 0) + count;
    if (step.insert === 'bait') bait += 1;
    if (step.insert === null) continue;
    const slot = model.slots.find((one) => one.id === step.slot);
    must(slot?.holds.includes(step.insert) === true, 'an insert goes where the model takes it');
  }
  must(JSON.stringify(sum) === JSON.stringify(steps.partsUsed), 'parts are the sum of the steps');
  must(steps.baitGrams === bait * 120, 'grams are those of the bait put in');
  const slots = steps.steps.flatMap((step) => (step.insert === null ? [] : [step.slot]));
  must(new Set(slots).size === slots.length, 'no slot is filled twice');
}

const PARTS: readonly (readonly [string, readonly Finding[], readonly LabelProfile[]])[] =
  process.env['SILLWATCH_WHOLE_SPACE'] === '1'
    ? [['everything', FINDINGS, PROFILES]]
    : [
        [
          'every choice about bait and monitors, no occupants',
          FINDINGS.filter((finding) => finding.reach !== 'opened' || finding.occupants === 'none'),
          PROFILES.filter((profile) => profile.auxiliaryStations.value > 0),
        ],
        [
          'every occupant, with and without auxiliary stations',
          FINDINGS,
          [
            profileWith({ auxiliaryStations: 0 }),
            profileWith({
              idleBait: 'withdrawn',
              clearBait: 'stays',
              monitorWithSigns: 'kept',
              auxiliaryStations: 2,
            }),
          ],
        ],
      ];

test('occupants and auxiliary stations enter one table each, without any choice about bait and monitors', () => {
  const asking = STATION_TABLES.filter(
    (table) => 'occupants' in table.inputs || 'profileAsks' in table.inputs,
  );
  expect(asking.map((table) => [table.id, Object.keys(table.inputs)])).toEqual([
    ['occupants', ['mayMove', 'occupants']],
    ['auxiliary-stations', ['finding', 'hitKnown', 'profileAsks', 'isAuxiliary']],
  ]);
});

// every row's share of a number that names one set of fired rows; the product of the row counts fits in 53 bits
const SHARE_OF_ROW = new Map<AnyRow, number>();
let stride = 1;
for (const table of STATION_TABLES) {
  for (const [i, row] of table.rows.entries()) SHARE_OF_ROW.set(row, i * stride);
  stride *= table.rows.length;
}

function checkSpace(
  models: readonly StationModel[],
  findings: readonly Finding[],
  profiles: readonly LabelProfile[],
  changes: Partial<StationState> = {},
): { points: number; reached: ReadonlySet<AnyRow> } {
  const reached = new Set<AnyRow>();
  let points = 0;
  for (const model of models) {
    for (const plain of statesOf(model)) {
      const state = { ...plain, ...changes };
      for (const task of TASKS) {
        // what the steps and the invariants depend on beside the rows
        const checked = new Set<number>();
        for (const profile of profiles) {
          const amounts = profile.auxiliaryStations.value > 0 ? 1 : 0;
          for (const finding of findings) {
            const input: StepsInput = { state, model, finding, task, profile };
            const decision = decideStation(input);
            points += 1;
            let key = 0;
            for (const { row } of decision.fired) key += SHARE_OF_ROW.get(row) ?? Number.NaN;
            key = key * 8 + amounts * 4 + (decision.baitPresent ? 2 : 0) + (decision.baitAfter ? 1 : 0);
            if (checked.has(key)) continue;
            checked.add(key);
            for (const { row } of decision.fired) reached.add(row);
            checkInvariants(input, stepsOf(decision, input));
          }
        }
      }
    }
  }
  return { points, reached };
}

test('over the whole space: one row a table, and termites are never disturbed', () => {
  expect(stride * 8).toBeLessThan(Number.MAX_SAFE_INTEGER);
  const reached = new Set<AnyRow>();
  for (const [, findings, profiles] of PARTS) {
    const part = checkSpace(MODELS, findings, profiles);
    expect(part.points).toBe(findings.length * profiles.length * MODELS.length * 16 * TASKS.length);
    for (const row of part.reached) reached.add(row);
  }
  // a station set beside a hit of which the ledger says that it holds bait, and a model of a firm's own whose one slot takes monitor or bait
  const quiet = FINDINGS.filter(
    (finding) => finding.reach === 'opened' && finding.occupants === 'none' && finding.housing === 'sound',
  );
  for (const model of [ONE_PART, ONE_SLOT_ONLY]) {
    for (const row of checkSpace([model], quiet, PROFILES.slice(0, 8), AUXILIARY_AND_BAITED).reached) {
      reached.add(row);
    }
  }
  const unreached = STATION_TABLES.flatMap((table) =>
    table.rows.filter((row) => !reached.has(row)).map((row) => `${table.id}: ${row.id}`),
  );
  expect(unreached).toEqual([]);
});

test('the same input gives the same steps', () => {
  const input: StepsInput = {
    state: stationOf(MODELS[0] ?? expect.fail('no model')),
    model: MODELS[0] ?? expect.fail('no model'),
    finding: FINDINGS[2] ?? expect.fail('no finding'),
    task: 'yearly service',
    profile: profileWith({}),
  };
  expect(JSON.stringify(stepsFor(input))).toBe(JSON.stringify(stepsFor(input)));
});
