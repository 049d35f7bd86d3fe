import { expect, test } from 'vitest';
import { eachFactPage, listEveryFact } from '../src/index.ts';
import { createFactMaker, RECEIVED } from './support/facts.ts';
import { open } from './support/targets.ts';

/** As many facts as fill pages of 10,000 exactly, and one more or less. */
test.each([0, 1, 9_999, 10_000, 10_001, 20_000])(
  'reads all of %i facts in order, in no empty page',
  async (count) => {
    const ledger = await open(':memory:');
    const maker = createFactMaker('firm-a');
    await ledger.append(
      'firm-a',
      Array.from({ length: count }, (_, n) => maker.noted('p1', `note ${n}`)),
      RECEIVED,
    );
    const seqs: (number | undefined)[] = [];
    for await (const page of eachFactPage(ledger, 'firm-a')) {
      expect(page).not.toHaveLength(0);
      for (const { receipt } of page) seqs.push(receipt?.seq);
    }
    expect(seqs).toEqual(Array.from({ length: count }, (_, n) => n + 1));
    await ledger.close();
  },
);

test('asks as the query says, on every page', async () => {
  const ledger = await open(':memory:');
  const maker = createFactMaker('firm-a');
  const notes = Array.from({ length: 20_010 }, (_, n) => maker.noted(n % 2 === 0 ? 'p1' : 'p2', `note ${n}`));
  await ledger.append('firm-a', [maker.branch('north'), ...notes], RECEIVED);
  const listed = await listEveryFact(ledger, 'firm-a', {
    property: 'p1',
    kinds: [maker.noted('p1', '').kind],
    afterSeq: 4,
  });
  expect(listed.map(({ receipt }) => receipt?.seq)).toEqual(
    Array.from({ length: 10_003 }, (_, n) => 6 + 2 * n),
  );
  expect(await listEveryFact(ledger, 'firm-a', { kinds: ['branch added'] })).toHaveLength(1);
  await ledger.close();
});
