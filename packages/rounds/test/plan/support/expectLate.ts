import { addDays, dayToText } from '@sillwatch/trade';
import { expect } from 'vitest';
import type { BranchPlan, PlanInput } from '../../../src/index.ts';
import type { DemoInput } from './demoInput.ts';
import { liveThrough } from './liveThrough.ts';

/** Lived through as facts, the plan is late exactly where it says so. */
export function expectLateAsListed(demo: DemoInput, input: PlanInput, rounds: BranchPlan): void {
  const own = new Map(
    [...demo.factsByProperty].filter(([property]) =>
      input.properties.some((state) => state.property === property && state.body?.branch === input.branch),
    ),
  );
  const to = addDays(input.from, input.days - 1);
  const lived = liveThrough(own, input.firm, rounds.rounds, to).map(
    ({ property, station, work, latest, plannedOn }) =>
      `${property} ${station} ${work} ${dayToText(latest)} ${plannedOn === null ? null : dayToText(plannedOn)}`,
  );
  const listed = rounds.late.map(
    ({ property, station, work, latest, plannedOn }) =>
      `${property} ${station} ${work} ${latest} ${plannedOn}`,
  );
  expect(lived.sort()).toEqual(listed.sort());
}
