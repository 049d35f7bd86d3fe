import {
  type Finding,
  type OpenedFinding,
  type StationModel,
  type Step,
  type StepId,
  stepsFor,
  type Work,
  workDone,
} from '@sillwatch/trade';
import { listLooks } from '../../shared/looks.ts';
import { stateBefore } from '../serve/visit.ts';
import type { FieldProperty } from '../store/port.ts';
import { SCENES, type SceneKey } from './scenes.ts';

export type Differs = 'reach' | keyof Omit<OpenedFinding, 'reach'>;

export interface Compared {
  readonly station: string;
  readonly number: number;
  readonly scene: SceneKey;
  readonly truth: Finding;
  readonly recorded: Finding;
  /** What was recorded otherwise than it was to be seen. */
  readonly differs: readonly Differs[];
  /** What the rules ask for at what was to be seen, each with its row. */
  readonly asked: readonly Step[];
  /** Asked for and not recorded as done; recorded as done and not asked for. */
  readonly missing: readonly StepId[];
  readonly besides: readonly StepId[];
  /** The rows that forbid or ask, to answer why: table, row, sentence. */
  readonly fired: readonly { readonly table: string; readonly row: string; readonly reads: string }[];
  readonly isRight: boolean;
}

/** Each station that the trainee recorded, the last record that stands, against the rule for what was to be seen. */
export function comparePractice(
  property: FieldProperty,
  visit: string,
  models: Readonly<Record<string, StationModel>>,
  sceneByStation: ReadonlyMap<string, SceneKey>,
): readonly Compared[] {
  const { profile, facts } = property;
  if (profile === undefined) return [];
  const last = new Map(
    listLooks(facts)
      .filter(({ body }) => body.visit === visit)
      .map((look) => [look.station, look]),
  );
  return [...last.values()]
    .flatMap(({ fact, station, body }): readonly Compared[] => {
      const scene = SCENES.find(({ key }) => key === sceneByStation.get(station));
      const before = stateBefore(facts, fact.id, profile);
      const model = before === undefined ? undefined : models[before.state.model];
      if (scene === undefined || before === undefined || model === undefined) return [];
      const asked = stepsFor({
        state: before.state,
        model,
        profile,
        task: body.task,
        finding: scene.truth,
      });
      const wanted = changesIn(workDone(asked));
      const done = changesIn(body.work);
      const missing = [...wanted].filter((id) => !done.has(id));
      const besides = [...done].filter((id) => !wanted.has(id));
      const differs = differences(scene.truth, body.finding);
      return [
        {
          station,
          number: before.state.number,
          scene: scene.key,
          truth: scene.truth,
          recorded: body.finding,
          differs,
          asked: asked.steps,
          missing,
          besides,
          fired: asked.fired,
          isRight: differs.length + missing.length + besides.length === 0,
        },
      ];
    })
    .toSorted((a, b) => a.number - b.number);
}

/** The reason for a station that could not be opened is in one's own words, and no answer to be judged. */
function differences(truth: Finding, recorded: Finding): readonly Differs[] {
  if (truth.reach !== 'opened' || recorded.reach !== 'opened')
    return truth.reach === recorded.reach ? [] : ['reach'];
  const parts = ['termites', 'baitLeft', 'monitor', 'housing', 'occupants'] as const;
  return parts.filter((part) => truth[part] !== recorded[part]);
}

/** What a record says was changed in the ground, in the words of the steps. */
function changesIn(work: Work): ReadonlySet<StepId> {
  const fitted = (slot: string, insert: string) =>
    work.fitted.some((one) => one.slot === slot && one.insert === insert);
  const used = (prefix: string) => Object.keys(work.partsUsed).some((part) => part.startsWith(prefix));
  const said: readonly (readonly [boolean, StepId])[] = [
    [used('housing-'), 'dig out and set a new housing'],
    [work.baseMonitorLifted && !used('housing-'), 'lift the base monitor, every piece of it'],
    [work.cleanedOut, 'clear debris from the housing'],
    [fitted('base', 'monitor'), 'fit a new base monitor'],
    [fitted('top', 'monitor'), 'fit a new top monitor'],
    [work.fitted.some(({ insert }) => insert === 'bait'), 'renew bait'],
    [work.withdrawn.length > 0, 'withdraw bait'],
    [used('cap-'), 'fit a new cap'],
    ...(work.repairs ?? []).map((repair) => [true, repair] as const),
  ];
  return new Set(said.filter(([is]) => is).map(([, id]) => id));
}
