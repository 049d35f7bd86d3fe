import {
  branchStock,
  expectedVisits,
  type FigureSubject,
  type HitRisk,
  loadFor,
  visitsOfRound,
  type WearRates,
} from '@sillwatch/rounds';
import {
  addDays,
  type Day,
  dayToText,
  type FirmState,
  type OrderState,
  type RoundBody,
  type StationModel,
  type StockLine,
} from '@sillwatch/trade';

/** Chances are 0 to 1; `branch` null = the whole firm; a day that is null = the day asked about. */
export type LoadAsked =
  | {
      readonly of: 'round';
      readonly person: string;
      readonly day: Day | null;
      /** Home branch of who asks, which hides other branches' rounds; null = sees all, or it is his own. */
      readonly seenFrom: string | null;
      readonly chance: number;
    }
  | {
      readonly of: 'branch';
      readonly branch: string | null;
      readonly from: Day | null;
      /** null = a week */
      readonly to: Day | null;
      readonly chance: number;
    }
  | { readonly of: 'stock'; readonly branch: string; readonly chance: number };

/** What a load leans on, read and learned beforehand. */
export interface LoadGround {
  readonly subjects: readonly FigureSubject[];
  readonly withoutProfile: readonly string[];
  readonly firm: FirmState;
  readonly models: Readonly<Record<string, StationModel>>;
  readonly risk: HitRisk;
  readonly wear: WearRates;
  readonly asOf: Day;
  listRounds(): readonly RoundBody[];
  listOrders(): readonly OrderState[];
  listStock(): readonly StockLine[];
}

/** Days from one order to the next; common practice, no source. */
const REVIEW_DAYS = 7;
/** A load without a last day is for a week, its first day included. */
const LAST_DAY_OF_A_WEEK = 6;

/** The load or the stock that was asked for, as plain data; the same functions as `sillwatch load`. */
export function answerLoad(asked: LoadAsked, ground: LoadGround): unknown {
  const { subjects, withoutProfile, firm, asOf, models, risk, wear } = ground;
  const branch = asked.of === 'round' ? null : asked.branch;
  const own = subjects.filter((one) => branch === null || one.branch === branch);
  const known = {
    states: new Map(subjects.map(({ history, state }) => [history.property, state])),
    profiles: firm.profiles,
    models,
    risk,
    wear,
  };
  const { chance } = asked;
  const names = Object.fromEntries(Object.values(firm.parts).map(({ part, name }) => [part, name]));
  switch (asked.of) {
    case 'round': {
      const day = dayToText(asked.day ?? asOf);
      const round = ground
        .listRounds()
        .find(
          (one) =>
            one.person === asked.person &&
            one.day === day &&
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
      const from = asked.from ?? asOf;
      const to = asked.to ?? addDays(from, LAST_DAY_OF_A_WEEK);
      const visits = expectedVisits(states, firm.profiles, from, to);
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
      const lines = ground.listStock().filter(({ place }) => of.includes(place));
      const stock = branchStock({
        ...known,
        states: new Map(own.map(({ history, state }) => [history.property, state])),
        asOf,
        places: of,
        lines,
        parts: firm.parts,
        orders: ground.listOrders(),
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
