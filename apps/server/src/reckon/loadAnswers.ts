import {
  branchStock,
  expectedVisits,
  fitHitRisk,
  groupByProperty,
  learnWear,
  loadFor,
  readSubjects,
  visitsOfRound,
} from '@sillwatch/rounds';
import {
  type AnyFact,
  type Day,
  dayToText,
  type FirmState,
  foldOrders,
  foldRounds,
  foldStock,
  type StationModel,
} from '@sillwatch/trade';

/** Chances are 0 to 1; `branch` null = the whole firm. */
export type LoadAsked =
  | {
      readonly of: 'round';
      readonly person: string;
      readonly day: Day;
      /** Home branch of who asks, which hides other branches' rounds; null = sees all, or it is his own. */
      readonly seenFrom: string | null;
      readonly chance: number;
    }
  | {
      readonly of: 'branch';
      readonly branch: string | null;
      readonly from: Day;
      readonly to: Day;
      readonly chance: number;
    }
  | { readonly of: 'stock'; readonly branch: string; readonly chance: number };

/** Days from one order to the next; common practice, no source. */
const REVIEW_DAYS = 7;

/** The load or the stock that was asked for, as plain data; the same functions as `sillwatch load`. */
export function answerLoad(
  asked: LoadAsked,
  facts: readonly AnyFact[],
  firm: FirmState,
  models: Readonly<Record<string, StationModel>>,
  asOf: Day,
): unknown {
  const { subjects, withoutProfile } = readSubjects(groupByProperty(facts), firm.profiles);
  const branch = asked.of === 'round' ? null : asked.branch;
  const own = subjects.filter((one) => branch === null || one.branch === branch);
  const known = {
    states: new Map(subjects.map(({ history, state }) => [history.property, state])),
    profiles: firm.profiles,
    models,
    risk: fitHitRisk(subjects, asOf),
    wear: learnWear(subjects, asOf),
  };
  const { chance } = asked;
  const names = Object.fromEntries(Object.values(firm.parts).map(({ part, name }) => [part, name]));
  switch (asked.of) {
    case 'round': {
      const round = foldRounds(facts).find(
        (one) =>
          one.person === asked.person &&
          one.day === dayToText(asked.day) &&
          (asked.seenFrom === null || one.branch === asked.seenFrom),
      );
      return round === undefined
        ? { published: false, load: null, withoutProfile: [] }
        : {
            published: true,
            load: loadFor({ ...known, visits: visitsOfRound(round) }, { chance, names }),
            withoutProfile: [],
          };
    }
    case 'branch': {
      const states = own.map(({ state }) => state);
      const visits = expectedVisits(states, firm.profiles, asked.from, asked.to);
      return {
        published: false,
        load: loadFor({ ...known, visits }, { chance, names }),
        // Without a profile the branch is not read: only a question about the whole firm names them.
        withoutProfile: branch === null ? withoutProfile : [],
      };
    }
    case 'stock': {
      const drivers = Object.values(firm.technicians)
        .filter((one) => one.branch === branch && one.active)
        .map(({ person, name }) => ({ place: person, name }));
      const branchName = firm.branches[asked.branch]?.name ?? asked.branch;
      const places = [{ place: asked.branch, name: branchName }, ...drivers];
      const of = places.map(({ place }) => place);
      const lines = foldStock(facts).filter(({ place }) => of.includes(place));
      const stock = branchStock({
        ...known,
        states: new Map(own.map(({ history, state }) => [history.property, state])),
        asOf,
        places: of,
        lines,
        parts: firm.parts,
        orders: foldOrders(facts),
        reviewDays: REVIEW_DAYS,
        chance,
      });
      const shown = lines.map(({ countedOn, ...line }) => ({
        ...line,
        countedOn: countedOn === null ? null : dayToText(countedOn),
      }));
      return { places, lines: shown, ...stock };
    }
  }
}
