import {
  assessClearance,
  type OpenedFinding,
  type StationModel,
  type StationState,
  stepsFor,
} from '@sillwatch/trade';
import { firstAnswers } from '../../desk/station/answers.ts';
import { taskAt, taskOfVisit, viewVisit } from '../serve/visit.ts';
import type { FieldProperty } from '../store/port.ts';

/**
 * Parts that are surely needed there: what the rules ask for when each station is found as it was last left. What is found
 * on the day decides the rest.
 */
export function sureNeeds(
  property: FieldProperty,
  models: Readonly<Record<string, StationModel>>,
): Readonly<Record<string, number>> {
  const { profile, due, today, state } = property;
  if (profile === undefined) return {};
  const task = taskOfVisit(due, today);
  const { left } = viewVisit(property, '');
  const needed: Record<string, number> = {};
  for (const station of state.stations) {
    const model = models[station.model];
    if (model === undefined || !left.includes(station.station)) continue;
    const steps = stepsFor({
      state: assessClearance(station, profile),
      model,
      profile,
      task: taskAt(station.station, due, today, task),
      finding: asLastLeft(station),
    });
    for (const [part, count] of Object.entries(steps.partsUsed)) needed[part] = (needed[part] ?? 0) + count;
  }
  return needed;
}

/** Feeding goes on where it was seen; elsewhere nothing is found, and bait is as it was. */
function asLastLeft(state: StationState): OpenedFinding {
  const { monitor } = firstAnswers(state);
  const hasBait = state.slots.some(({ insert }) => insert === 'bait');
  return {
    reach: 'opened',
    termites: state.phase === 'feeding' && hasBait ? 'live on bait' : 'none',
    baitLeft: hasBait ? (state.baitLeft === 'no bait' ? 'full' : state.baitLeft) : 'no bait',
    monitor,
    housing: 'sound',
    occupants: 'none',
  };
}

export type ToolKey =
  | 'gloves'
  | 'eyes'
  | 'brush'
  | 'opener'
  | 'light'
  | 'kneepad'
  | 'longTool'
  | 'water'
  | 'drill'
  | 'bucket'
  | 'label'
  | 'spade';

/** Tools of the day; the drill and what goes with it only where a yearly service is due. */
export function toolsFor(properties: readonly FieldProperty[]): readonly ToolKey[] {
  const always: readonly ToolKey[] = [
    'gloves',
    'opener',
    'brush',
    'longTool',
    'light',
    'kneepad',
    'label',
    'water',
  ];
  const works = new Set(
    properties.flatMap(({ due, today }) =>
      (due?.items ?? []).filter(({ earliest }) => earliest <= today).map(({ work }) => work),
    ),
  );
  const yearly: readonly ToolKey[] =
    works.has('yearly service') || works.has('carried-over service') ? ['drill', 'eyes', 'bucket'] : [];
  const digging: readonly ToolKey[] = works.has('replacement') ? ['spade'] : [];
  return [...always, ...yearly, ...digging];
}

export function addCounts(
  counts: readonly Readonly<Record<string, number>>[],
): Readonly<Record<string, number>> {
  const sum: Record<string, number> = {};
  for (const one of counts)
    for (const [part, count] of Object.entries(one)) sum[part] = (sum[part] ?? 0) + count;
  return sum;
}
