import type { AnyFact, RoundBody } from '@sillwatch/trade';
import { clockToText, foldRounds } from '@sillwatch/trade';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { listSentRounds } from '../../src/index.ts';

const ANN = 'ann';
const BEN = 'ben';
const MON = '2026-11-30';
const TUE = '2026-12-01';

function round(
  person: string,
  day: string,
  visits: readonly string[],
  frozen: readonly string[] = [],
): RoundBody {
  return {
    plan: 'plan-1',
    branch: 'b',
    person,
    day,
    startsAt: `${day}T08:00:00-05:00`,
    endsAt: `${day}T16:00:00-05:00`,
    breakMinutes: 30,
    travel: 'great circle',
    visits: visits.map((text) => {
      const [visit = '', hour = '09'] = text.split(' at ');
      return {
        visit,
        property: `house of ${visit}`,
        startsAt: `${day}T${hour}:00:00-05:00`,
        endsAt: `${day}T${hour}:30:00-05:00`,
        driveMinutes: 5,
        driveMetres: 3000,
        works: [],
        asks: [],
        frozen: frozen.includes(visit),
      };
    }),
  };
}

/** Each list of rounds is one publication, an hour after the one before. */
function sent(...publications: readonly (readonly RoundBody[])[]): readonly AnyFact[] {
  return publications.flatMap((bodies, turn) =>
    bodies.map((body, index): AnyFact => {
      const ms = Date.UTC(2026, 10, 25, 10 + turn);
      return {
        id: `fact-${turn}-${index}`,
        firm: 'f',
        property: null,
        station: null,
        by: `lead-${turn}`,
        device: `plan-${turn}`,
        seq: index + 1,
        at: new Date(ms).toISOString().replace('Z', '+00:00'),
        clock: clockToText({ ms, count: index }),
        kind: 'round published',
        body,
      };
    }),
  );
}

describe('rounds sent out', () => {
  it('have one form and no changes when they were sent once, or again as they were', () => {
    const bodies = [round(ANN, MON, ['a at 09', 'b at 10'])];
    const [one, ...more] = listSentRounds(sent(bodies, bodies, bodies));
    expect(more).toEqual([]);
    expect(one).toMatchObject({ forms: 1, by: 'lead-0', came: [], went: [] });
    expect(one?.sentAt).toBe('2026-11-25T10:00:00.000+00:00');
  });

  it('say of each visit where it came from and where it went', () => {
    const facts = sent(
      [round(ANN, MON, ['a at 09', 'b at 10', 'c at 11']), round(BEN, MON, ['d at 09'])],
      [
        round(ANN, MON, ['a at 09', 'e at 10']),
        round(BEN, MON, ['b at 09', 'd at 10']),
        round(BEN, TUE, ['c at 13']),
      ],
    );
    const [ann, ben, tuesday] = listSentRounds(facts);
    expect(ann?.forms).toBe(2);
    expect(ann?.came).toEqual([{ visit: 'e', property: 'house of e', other: null }]);
    expect(ann?.went).toEqual([
      {
        visit: 'b',
        property: 'house of b',
        other: { day: MON, person: BEN, startsAt: `${MON}T09:00:00-05:00` },
      },
      {
        visit: 'c',
        property: 'house of c',
        other: { day: TUE, person: BEN, startsAt: `${TUE}T13:00:00-05:00` },
      },
    ]);
    expect(ben?.came).toEqual([
      {
        visit: 'd',
        property: 'house of d',
        other: { day: MON, person: BEN, startsAt: `${MON}T09:00:00-05:00` },
      },
      {
        visit: 'b',
        property: 'house of b',
        other: { day: MON, person: ANN, startsAt: `${MON}T10:00:00-05:00` },
      },
    ]);
    // The first form of a round is news as a whole.
    expect(tuesday).toMatchObject({ forms: 1, came: [], went: [] });
  });

  it('are called off when they are emptied, and a visit that is in no round any more is nowhere', () => {
    const [ann] = listSentRounds(sent([round(ANN, MON, ['a at 09'])], [round(ANN, MON, [])]));
    expect(ann?.round.visits).toEqual([]);
    expect(ann?.went).toEqual([{ visit: 'a', property: 'house of a', other: null }]);
  });

  it('stand as `foldRounds` says, in whatever order the facts come', () => {
    const name = fc.constantFrom('a', 'b', 'c', 'd');
    const body = fc
      .tuple(fc.constantFrom(ANN, BEN), fc.constantFrom(MON, TUE), fc.uniqueArray(name))
      .map(([person, day, visits]) => round(person, day, visits));
    const publications = fc.array(
      fc.uniqueArray(body, { selector: ({ person, day }) => `${day} ${person}`, maxLength: 4 }),
      { maxLength: 5 },
    );
    fc.assert(
      fc.property(publications, fc.infiniteStream(fc.nat()), (lists, numbers) => {
        const facts = sent(...lists);
        const shuffled = facts
          .map((fact) => ({ fact, order: numbers.next().value ?? 0 }))
          .sort((a, b) => a.order - b.order)
          .map(({ fact }) => fact);
        const listed = listSentRounds(facts);
        expect(listSentRounds(shuffled)).toEqual(listed);
        expect(listed.map((one) => one.round).filter(({ visits }) => visits.length > 0)).toEqual(
          foldRounds(facts),
        );
      }),
    );
  });
});
