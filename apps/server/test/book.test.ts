import { generateDemo } from '@sillwatch/demo';
import { openLedger } from '@sillwatch/ledger';
import { type AnyFact, addDays, type Day, dueWork, getDay, timelinessOn, WORKS } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import { createBooks } from '../src/work/book.ts';
import { type DueQuestion, findDue } from '../src/work/dueRows.ts';

const today = getDay('2026-11-25');
const now = Date.parse('2026-11-25T15:00:00Z');
const demo = generateDemo({ seed: 5, today, properties: 12 });
const firm = demo.firm.id;
const RECEIVED = '2026-11-25T15:00:00.000Z';

const EVERYTHING: DueQuestion = {
  asOf: undefined,
  branch: undefined,
  property: undefined,
  town: undefined,
  text: undefined,
  work: undefined,
  technician: undefined,
  group: undefined,
  withinDays: 0,
};

async function openDemo(facts: readonly AnyFact[] = demo.facts) {
  const ledger = await openLedger({});
  await ledger.append(firm, facts, RECEIVED);
  return { ledger, books: createBooks(ledger, () => now) };
}

describe('the book of a firm', () => {
  it('says what dueWork says of every property, on any day, also before some stations were set', async () => {
    const { ledger, books } = await openDemo();
    const book = await books.open(firm);
    const states = await ledger.listProperties(firm, { limit: 1000 });
    for (const asOf of [-700, -300, 0, 45].map((days) => addDays(today, days))) {
      for (const withinDays of [0, 60]) {
        const answer = findDue(book, { ...EVERYTHING, asOf, withinDays });
        const expected = states.map((state) => {
          const profile = book.firm.profiles[state.body?.profile ?? ''];
          if (profile === undefined) throw new Error('the demo names its profile');
          const work = dueWork(state.stations, profile, asOf);
          const open = work.items.filter(({ earliest }) => earliest <= addDays(asOf, withinDays));
          return {
            property: state.property,
            works: WORKS.map((kind) => open.filter((item) => item.work === kind).length).filter(Boolean),
            latest: open.reduce<Day | null>((a, { latest }) => (a === null || latest < a ? latest : a), null),
            late: open.filter((item) => timelinessOn(item, asOf) === 'late').length,
            held: work.held.length,
          };
        });
        const rows = answer.rows.map(({ entry, works, window, late, held }) => ({
          property: entry.property,
          works: works.map(({ stations }) => stations),
          latest: window?.latest ?? null,
          late,
          held,
        }));
        const byProperty = (a: { property: string }, b: { property: string }) =>
          a.property < b.property ? -1 : 1;
        expect(rows.toSorted(byProperty)).toEqual(
          expected.filter(({ works, held }) => works.length > 0 || held > 0).sort(byProperty),
        );
        expect(answer.held).toBe(expected.reduce((sum, { held }) => sum + held, 0));
      }
    }
  });

  it('kept up fact by fact it is the same as one read afresh, whoever appended', async () => {
    const { ledger, books } = await openDemo(demo.facts.slice(0, 200));
    const other = createBooks(ledger, () => now);
    await books.open(firm);
    for (let at = 200; at < demo.facts.length; at += 997)
      await Promise.all([
        ledger.append(firm, demo.facts.slice(at, at + 997), RECEIVED),
        books.open(firm),
        other.open(firm),
      ]);
    const fresh = await createBooks(ledger, () => now).open(firm);
    for (const kept of [await books.open(firm), await other.open(firm)]) {
      expect(kept.seq).toBe(fresh.seq);
      expect(kept.entries).toEqual(fresh.entries);
    }
  });

  it('follows a label profile that changes', async () => {
    const { ledger, books } = await openDemo();
    const before = findDue(await books.open(firm), { ...EVERYTHING, withinDays: 800 });
    const old = demo.facts.find(({ kind }) => kind === 'profile set');
    if (old === undefined) throw new Error('the demo sets a profile');
    const [profile] = Object.values((await ledger.getFirm(firm)).profiles);
    if (profile === undefined) throw new Error('the demo sets a profile');
    const later = { months: 30, days: 0 };
    const slow = { earliest: later, target: later, latest: later };
    await ledger.append(
      firm,
      [
        {
          ...old,
          id: '01999999-0000-7000-8000-000000000001',
          at: '2026-11-25T10:00:00-05:00',
          seq: 999_999,
          body: { ...profile, yearlyService: { ...profile.yearlyService, value: slow } },
        },
      ],
      RECEIVED,
    );
    const after = findDue(await books.open(firm), { ...EVERYTHING, withinDays: 800 });
    const yearly = ({ rows }: typeof before) =>
      rows.reduce(
        (sum, { works }) => sum + (works.find(({ work }) => work === 'yearly service')?.stations ?? 0),
        0,
      );
    expect(yearly(after)).toBeLessThan(yearly(before));
  });

  it('counts each group and town under the question, and lists one of them on asking', async () => {
    const { books } = await openDemo();
    const book = await books.open(firm);
    const all = findDue(book, { ...EVERYTHING, withinDays: 60 });
    for (const group of ['late', 'open', 'coming', 'held'] as const)
      expect(findDue(book, { ...EVERYTHING, withinDays: 60, group }).rows).toHaveLength(all.groups[group]);
    for (const [town, rows] of all.towns)
      expect(findDue(book, { ...EVERYTHING, withinDays: 60, town }).rows).toHaveLength(rows);
    const [first] = all.rows;
    const text = first?.entry.name.toUpperCase() ?? '';
    expect(findDue(book, { ...EVERYTHING, withinDays: 60, text }).rows[0]?.entry.property).toBe(
      first?.entry.property,
    );
  });
});
