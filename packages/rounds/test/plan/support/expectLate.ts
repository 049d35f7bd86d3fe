import { addDays, dayToText, type RoundBody } from '@sillwatch/trade';
import { expect } from 'vitest';
import type { BranchPlan, PlanInput } from '../../../src/index.ts';
import type { DemoInput } from './demoInput.ts';
import { liveThrough } from './liveThrough.ts';

/**
 * Lived through as facts, the plan is late exactly where it says so. `sent`: rounds of the days before the plan come true first
 * where the input counts them as done.
 */
export function expectLateAsListed(
  demo: DemoInput,
  input: PlanInput,
  plan: BranchPlan,
  sent: readonly RoundBody[] = [],
): void {
  const own = new Map(
    [...demo.factsByProperty].filter(([property]) =>
      input.properties.some((state) => state.property === property && state.body?.branch === input.branch),
    ),
  );
  const to = addDays(input.from, input.days - 1);
  const from = dayToText(input.from);
  const before = sent.filter(
    ({ day }) => day < from && input.today !== undefined && day >= dayToText(input.today),
  );
  const lived = liveThrough(own, input.firm, [...before, ...plan.rounds], to)
    .map((one) => ({ ...one, day: one.plannedOn === null ? null : dayToText(one.plannedOn) }))
    .filter(({ day }) => day === null || day >= from)
    .map(
      ({ property, station, work, latest, day }) =>
        `${property} ${station} ${work} ${dayToText(latest)} ${day}`,
    );
  const listed = plan.late.map(
    ({ property, station, work, latest, plannedOn }) =>
      `${property} ${station} ${work} ${latest} ${plannedOn}`,
  );
  expect(lived.sort()).toEqual(listed.sort());
}
