import {
  BAIT_LEFT,
  type BaitLeft,
  HOUSING_CONDITIONS,
  type HousingCondition,
  type LabelProfile,
  MONITOR_CONDITIONS,
  type MonitorCondition,
  type StationModel,
  type StationState,
  type StepId,
  stepsFor,
  type Task,
  type TermiteFinding,
} from '@sillwatch/trade';

/** One of the findings that may come, and what the rules then use. */
export interface Outcome {
  readonly termites: TermiteFinding;
  readonly baitLeft: BaitLeft;
  readonly monitor: MonitorCondition;
  readonly housing: HousingCondition;
  readonly uses: readonly Use[];
  readonly steps: readonly StepId[];
}

export interface Use {
  readonly part: string;
  readonly count: number;
  readonly step: LoadStep;
}

/** What asks for a part: a step of the rules, or a new station set. */
export type LoadStep = StepId | 'set the stations beside a hit' | 'set the replacement';

/** The state's part in what the rules answer: stations alike in it share their outcomes. */
function keyOf(state: StationState, model: StationModel, profile: LabelProfile, task: Task): string {
  const holds = state.slots.filter(({ insert }) => insert === 'bait').map(({ slot }) => slot);
  const run = Math.min(state.termiteFreeLooks, profile.clearAfterChecks.value);
  return JSON.stringify([
    model.id,
    profile.id,
    task,
    state.phase,
    holds,
    state.openHitOn !== null,
    run,
    state.clearedOn !== null,
    state.carriedOverOn !== null,
    state.auxiliary,
  ]);
}

export interface OutcomeBook {
  outcomesOf(state: StationState, model: StationModel, profile: LabelProfile, task: Task): readonly Outcome[];
}

/** Asks the rules about every finding that may come at a station, once for all stations alike. */
export function createOutcomeBook(): OutcomeBook {
  const known = new Map<string, readonly Outcome[]>();
  return {
    outcomesOf(state, model, profile, task) {
      const key = keyOf(state, model, profile, task);
      const old = known.get(key);
      if (old !== undefined) return old;
      const listed = listOutcomes(state, model, profile, task);
      known.set(key, listed);
      return listed;
    },
  };
}

export function listOutcomes(
  state: StationState,
  model: StationModel,
  profile: LabelProfile,
  task: Task,
): readonly Outcome[] {
  const holdsBait = state.slots.some(({ insert }) => insert === 'bait');
  const hasMonitor = state.slots.some(({ insert }) => insert === 'monitor');
  const termitesSeen: readonly TermiteFinding[] = holdsBait
    ? ['none', 'live on bait']
    : ['none', 'signs only', 'live on monitor'];
  const baitSeen: readonly BaitLeft[] = holdsBait
    ? BAIT_LEFT.filter((left) => left !== 'no bait')
    : ['no bait'];
  const monitorsSeen: readonly MonitorCondition[] = hasMonitor
    ? MONITOR_CONDITIONS.filter((condition) => condition !== 'no monitor')
    : ['no monitor'];
  const outcomes: Outcome[] = [];
  for (const termites of termitesSeen)
    for (const baitLeft of baitSeen)
      for (const monitor of monitorsSeen)
        for (const housing of HOUSING_CONDITIONS) {
          const finding = {
            reach: 'opened',
            termites,
            baitLeft,
            monitor,
            housing,
            occupants: 'none',
          } as const;
          const { steps, auxiliaryStations } = stepsFor({ state, model, finding, task, profile });
          const uses = steps.flatMap(({ id, parts }) =>
            Object.entries(parts).map(([part, count]): Use => ({ part, count, step: id })),
          );
          const beside = newStationUses(model, auxiliaryStations, 'set the stations beside a hit');
          outcomes.push({
            termites,
            baitLeft,
            monitor,
            housing,
            uses: [...uses, ...beside],
            steps: steps.map(({ id }) => id),
          });
        }
  return outcomes;
}

/** Parts of new stations: a housing with its own cap, and what stands in it from the first day. */
export function newStationUses(model: StationModel, stations: number, step: LoadStep): readonly Use[] {
  if (stations === 0) return [];
  const { housing, baseMonitor, topMonitor, bait } = model.parts;
  const inside = baseMonitor === null && topMonitor === null ? [bait] : [baseMonitor, topMonitor];
  return [housing, ...inside].flatMap((part) => (part === null ? [] : [{ part, count: stations, step }]));
}
