import { type Counts, NORMAL_NODES } from '@sillwatch/figures';
import {
  addDays,
  assessClearance,
  DEMO_PROFILE,
  type PropertyState,
  STATION_MODELS,
  type StationState,
  TASKS,
  type WorkKind,
} from '@sillwatch/trade';
import type { Day } from '@sillwatch/trade/units';
import { describe, expect, it } from 'vitest';
import {
  createOutcomeBook,
  fitHitRisk,
  type LoadQuestion,
  type LoadVisit,
  learnWear,
  listOutcomes,
  loadFor,
  type StationNeed,
  stationNeed,
  subjectOf,
  toolsFor,
} from '../../src/index.ts';
import { demoBook, TODAY } from '../support/demoFirm.ts';

const book = demoBook(7, 30);
const subjects = book.histories.flatMap((history, at) => {
  const state = book.states[at];
  return state === undefined ? [] : [subjectOf(history, state, DEMO_PROFILE)];
});
const models = Object.fromEntries(STATION_MODELS.map((model) => [model.id, model]));
const risk = fitHitRisk(subjects, TODAY);
const wear = learnWear(subjects, TODAY);

function question(
  visits: readonly LoadVisit[],
  states: readonly PropertyState[] = book.states,
): LoadQuestion {
  return {
    visits,
    states: new Map(states.map((state) => [state.property, state])),
    profiles: { [DEMO_PROFILE.id]: DEMO_PROFILE },
    models,
    risk,
    wear,
  };
}

function visitTo(state: PropertyState, work: WorkKind): LoadVisit {
  const works = state.stations.filter((one) => one.inService).map(({ station }) => ({ station, work }));
  return { property: state.property, day: TODAY, works };
}

const get = <T>(value: T | undefined): T => {
  if (value === undefined) throw new Error('not there');
  return value;
};
const needOf = (state: StationState, works: readonly WorkKind[], day: Day = TODAY): StationNeed =>
  stationNeed({
    state,
    model: get(models[state.model]),
    profile: DEMO_PROFILE,
    works,
    day,
    risk,
    wear,
    book: createOutcomeBook(),
  });

describe('what a station needs', () => {
  it('shares outcomes between stations alike, and only between those', () => {
    const shared = createOutcomeBook();
    let compared = 0;
    for (const property of book.states.slice(0, 8))
      for (const folded of property.stations)
        for (const task of TASKS) {
          const state = assessClearance(folded, DEMO_PROFILE);
          const model = get(models[state.model]);
          const own = JSON.stringify(listOutcomes(state, model, DEMO_PROFILE, task));
          if (JSON.stringify(shared.outcomesOf(state, model, DEMO_PROFILE, task)) !== own)
            throw new Error(`${state.station} is taken for another kind of station`);
          compared += 1;
        }
    expect(compared).toBeGreaterThan(200);
  });

  it('gives each finding a chance, all chances together 1', () => {
    for (const state of get(book.states[0]).stations) {
      const { parts } = needOf(state, ['yearly service']);
      for (const { live, quiet } of parts.values())
        for (const counts of [live, quiet])
          expect(counts.reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 9);
    }
  });

  it('never takes a base monitor to a station for the case that termites feed there', () => {
    const feeding = book.states
      .flatMap(({ stations }) => stations)
      .filter(({ phase }) => phase === 'feeding');
    expect(feeding.length).toBeGreaterThan(3);
    for (const state of feeding) {
      const { live } = get(needOf(state, ['yearly service']).parts.get('base-monitor') ?? NONE);
      expect(live[0]).toBeCloseTo(1, 12);
    }
  });

  it('takes a whole new station where a replacement is owed', () => {
    const state = get(get(book.states[0]).stations[0]);
    const need = needOf(state, ['replacement', 'yearly service']);
    const { housing } = get(models[state.model]).parts;
    expect(need.usual.get(housing)).toBe(1);
    expect(need.replaced).toBe(wear.replaced);
    expect(need.replacement.get(housing)).toBe(1);
  });

  it('learns how many of the replacements owed are made, and how seldom opens what was missed several times', () => {
    const [subject] = subjects;
    const missed = subjects
      .flatMap(({ history }) => history.looks)
      .find(({ body }) => body.finding.reach === 'not found');
    const base = get(subject);
    const look = (day: number) => ({ ...get(missed), station: 's', day: addDays(TODAY, day - 900) });
    const replaced = (day: number) => ({
      station: 's',
      day: addDays(TODAY, day - 900),
      body: null,
      model: 'two-part',
      application: null,
      holdsBait: false,
    });
    const learned = (looks: readonly number[], replacements: readonly number[]) =>
      learnWear(
        [
          {
            ...base,
            history: {
              ...base.history,
              looks: looks.map(look),
              installations: replacements.map(replaced),
            },
          },
        ],
        TODAY,
      );
    expect(DEMO_PROFILE.missesBeforeReplacement.value).toBe(3);
    // Nine of ten stand in for a record; a replacement that nobody was asked for says nothing.
    expect(learned([], [10]).replaced).toBeCloseTo(9 / 10, 12);
    expect(learned([0, 90, 180], [270]).replaced).toBeCloseTo(10 / 11, 12);
    expect(learned([0, 90, 180, 270], []).replaced).toBeCloseTo(9 / 11, 12);
    // Asked for after the third miss: left once, made then, after which the new station begins anew.
    const both = learned([0, 90, 180, 270, 450], [360]);
    expect(both.replaced).toBeCloseTo(10 / 12, 12);
    expect(both.missed.afterSeveral).toBeCloseTo((2.5 + 2) / (3 + 2), 12);
    expect(both.missed.afterOpened).toBeCloseTo((0.3 + 2) / (30 + 2), 12);
    expect(wear.missed.afterMissed).toBeGreaterThan(5 * wear.missed.afterOpened);
    expect(wear.missed.afterSeveral).toBeGreaterThan(0.8);
  });

  it('takes termites found at the last look to be there less often the longer ago that was', () => {
    const feeding = book.states
      .flatMap(({ stations }) => stations)
      .find(({ phase, lastOpenedOn }) => phase === 'feeding' && lastOpenedOn !== null);
    const state = get(feeding);
    const opened = state.lastOpenedOn ?? TODAY;
    const [soon, late] = [10, 100].map((days) => needOf(state, ['check'], addDays(opened, days)).live);
    expect(soon).toBeCloseTo(wear.live.onBaitAfterLive(10), 12);
    expect(late).toBeCloseTo(get(soon) ** 10, 12);
    expect(late).toBeLessThan(0.8);
    expect(soon).toBeGreaterThan(0.85);
  });
});

const NONE = { live: Float64Array.of(1), quiet: Float64Array.of(1) };

describe('the load', () => {
  const property = get(
    book.states.find(({ stations }) => stations.every(({ model }) => model === 'two-part')),
  );

  it('is the exact sum: equal to a slow one made in another way', () => {
    const stations = property.stations.slice(0, 5);
    const visit = {
      property: property.property,
      day: TODAY,
      works: stations.map(({ station }) => ({ station, work: 'check' as const })),
    };
    const load = loadFor(question([visit]), { chance: 0.05 });
    for (const { part, counts } of load.parts) {
      const slow = slowCounts(
        stations.map((state) => needOf(state, ['check'])),
        part,
      );
      slow.forEach((chance, count) => {
        expect(counts[count] ?? 0).toBeCloseTo(chance, 12);
      });
    }
    expect(load.parts.length).toBeGreaterThan(3);
  });

  it('takes what is certain, and as much more as the accepted chance asks', () => {
    const visits = book.states.slice(0, 4).map((state) => visitTo(state, 'yearly service'));
    const at = (chance: number) => loadFor(question(visits), { chance });
    const [one, five] = [at(0.01), at(0.05)];
    const taken = (load: typeof one) => load.parts.reduce((sum, { take }) => sum + take, 0);
    expect(taken(one)).toBeGreaterThan(taken(five));
    for (const { part, take, expected, chanceShort, counts, certain, why } of five.parts) {
      expect(chanceShort, part).toBeLessThanOrEqual(0.05);
      // One fewer would not do.
      const above = counts.slice(take).reduce((sum, chance) => sum + chance, 0);
      if (take > 0) expect(above, part).toBeGreaterThan(0.05);
      expect(
        why.reduce((sum, reason) => sum + reason.expected, 0),
        part,
      ).toBeCloseTo(expected, 6);
      expect(
        why.reduce((sum, reason) => sum + reason.certain, 0),
        part,
      ).toBe(certain);
    }
    const base = get(five.parts.find(({ part }) => part === 'base-monitor'));
    expect(base.certain).toBeGreaterThan(20);
    expect(base.why[0]?.step).toBe('fit a new base monitor');
  });

  it('counts a station with two works once, and says what it could not reckon', () => {
    const { station } = get(property.stations[0]);
    const works = [
      { station, work: 'check' as const },
      { station, work: 'yearly service' as const },
      { station: 'nobody', work: 'check' as const },
    ];
    const load = loadFor(
      question([
        { property: property.property, day: TODAY, works },
        { property: 'nowhere', day: TODAY, works: [{ station, work: 'check' }] },
      ]),
      { chance: 0.05 },
    );
    expect(load.stations).toBe(1);
    expect(load.leftOut).toEqual([
      { property: property.property, station: 'nobody', why: 'no such station' },
      { property: 'nowhere', station, why: 'no such property' },
    ]);
    expect(() => loadFor(question([]), { chance: 0 })).toThrow(/chance/);
    expect(loadFor(question([]), { chance: 0.05 })).toMatchObject({ parts: [], stations: 0 });
  });

  it('asks for more where more hits are likely', () => {
    const hitters = [...risk.memory.properties]
      .map(([name, { looks }]) => ({ name, share: looks.filter(({ hit }) => hit).length / looks.length }))
      .sort((a, b) => b.share - a.share);
    const live = (name: string | undefined): number => {
      const state = get(book.states.find((one) => one.property === name));
      const load = loadFor(question([visitTo(state, 'check')]), { chance: 0.05 });
      return load.expectedLive / load.stations;
    };
    expect(live(hitters[0]?.name)).toBeGreaterThan(2 * live(hitters.at(-1)?.name));
  });

  it('lists tools by the work: the clean-out bit for yearly services, spade and marks where one may dig', () => {
    const tools = toolsFor(
      new Map([
        ['clear debris from the housing', 12],
        ['ask for auxiliary stations', 0.3],
        ['bail out water', 0.000_01],
      ]),
    );
    const chances = Object.fromEntries(tools.map(({ tool, chance }) => [tool, chance]));
    expect(chances['drill with clean-out bit']).toBeGreaterThan(0.999);
    expect(chances['spade']).toBeCloseTo(1 - Math.exp(-0.3), 12);
    expect(chances['cup or hand pump']).toBeUndefined();
    expect(chances['station key']).toBe(1);
  });
});

/** By enumerating what each station uses, node by node. */
function slowCounts(needs: readonly StationNeed[], part: string): number[] {
  const total: number[] = [];
  NORMAL_NODES.forEach(({ weight }, node) => {
    const go = (at: number, used: number, chance: number): void => {
      const need = needs[at];
      if (need === undefined) {
        total[used] = (total[used] ?? 0) + weight * chance;
        return;
      }
      if (need.replaced > 0) go(at + 1, used + (need.replacement.get(part) ?? 0), chance * need.replaced);
      const looked = chance * (1 - need.replaced);
      go(at + 1, used, looked * need.missed);
      const live = need.liveAt[node] ?? need.live;
      const of = need.parts.get(part) ?? NONE;
      const each = (counts: Counts, share: number): void => {
        counts.forEach((own, count) => {
          if (own > 0) go(at + 1, used + count, looked * (1 - need.missed) * share * own);
        });
      };
      each(of.live, live);
      each(of.quiet, 1 - live);
    };
    go(0, 0, 1);
  });
  return total.map((chance) => chance ?? 0);
}
