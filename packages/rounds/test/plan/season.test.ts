import { getDay } from '@sillwatch/trade';
import { expect, it } from 'vitest';
import { buildPlanProblem } from '../../src/index.ts';
import { inventBranch } from './support/inventBranch.ts';

it('a season turns only ties: no day is opened, none costs more than ten seconds more, and days alike go by liking', () => {
  const input = inventBranch(120, 3, 42, getDay('2026-11-25'));
  const plain = buildPlanProblem(input).problem.jobs;
  const liked = buildPlanProblem(input, (day) => (day % 2 === 0 ? 1 : 0)).problem.jobs;
  let turned = 0;
  plain.forEach((job, j) => {
    const other = liked[j]?.days ?? [];
    expect(other.map(({ day }) => day)).toEqual(job.days.map(({ day }) => day));
    job.days.forEach(({ cost }, k) => {
      expect(Math.abs((other[k]?.cost ?? -1) - cost)).toBeLessThanOrEqual(10);
      if (other[k]?.cost !== cost) turned += 1;
    });
    for (let a = 0; a < other.length; a += 1)
      for (let b = 0; b < other.length; b += 1)
        if ((job.days[a]?.cost ?? 0) + 10 < (job.days[b]?.cost ?? 0))
          expect(other[a]?.cost ?? 0).toBeLessThanOrEqual(other[b]?.cost ?? 0);
  });
  expect(turned).toBeGreaterThan(100);
  // Without a season at all: nothing changes.
  expect(buildPlanProblem(input, undefined).problem.jobs).toEqual(plain);
});
