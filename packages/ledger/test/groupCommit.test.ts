import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createGroupCommit } from '../src/core/groupCommit.ts';

const LIMITS = { mostCalls: 8, mostWeight: 100, weightOf: (call: number) => call };

describe('group commit', () => {
  test('calls that come together share a commit, in order, and each gets its own answer', async () => {
    const groups: (readonly number[])[] = [];
    const lane = createGroupCommit<number, string>(async (calls) => {
      groups.push(calls);
      return calls.map((call) => `answer ${call}`);
    }, LIMITS);
    const answers = await Promise.all([1, 2, 3].map((call) => lane.submit(call)));
    expect(answers).toEqual(['answer 1', 'answer 2', 'answer 3']);
    expect(groups).toEqual([[1, 2, 3]]);
  });

  test('no group is over its limits, except one call that is over them alone', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.integer({ min: 0, max: 150 }), { maxLength: 60 }), async (calls) => {
        const groups: (readonly number[])[] = [];
        const lane = createGroupCommit<number, number>(async (group) => {
          groups.push(group);
          return group;
        }, LIMITS);
        expect(await Promise.all(calls.map((call) => lane.submit(call)))).toEqual(calls);
        expect(groups.flat()).toEqual(calls);
        for (const group of groups) {
          expect(group.length).toBeLessThanOrEqual(8);
          if (group.length > 1) expect(group.reduce((a, b) => a + b)).toBeLessThanOrEqual(100);
        }
        await lane.idle();
      }),
    );
  });

  test('one call that fails does not fail its neighbours, and none is answered before its own commit', async () => {
    const kept: number[] = [];
    const lane = createGroupCommit<number, number>(async (calls) => {
      // All or nothing, as a transaction is.
      if (calls.includes(13)) throw new Error('unlucky');
      kept.push(...calls);
      return calls;
    }, LIMITS);
    const outcomes = await Promise.allSettled([1, 13, 2].map((call) => lane.submit(call)));
    expect(outcomes.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled']);
    expect(kept).toEqual([1, 2]);
    expect(await lane.submit(3)).toBe(3);
  });

  test('only one commit runs at a time', async () => {
    let running = 0;
    const lane = createGroupCommit<number, number>(async (calls) => {
      running += 1;
      expect(running).toBe(1);
      await new Promise((resolve) => setTimeout(resolve, 2));
      running -= 1;
      return calls;
    }, LIMITS);
    await Promise.all(Array.from({ length: 40 }, (_, index) => lane.submit(index)));
  });
});
