import {
  createSharing,
  cutRows,
  type FigureSource,
  type FigureSubject,
  figureAnswer,
  fitHitRisk,
  type HitRisk,
  historyOf,
  learnRisk,
  learnWear,
  type PropertyHistory,
  subjectOf,
  updateHitRisk,
  type WearRates,
} from '@sillwatch/rounds';
import {
  type AnyFact,
  type Day,
  type FirmState,
  foldOrders,
  foldProperty,
  foldRounds,
  foldStockEvents,
  type PropertyState,
  type StockEvent,
  stockEvents,
} from '@sillwatch/trade';
import { modelsOf } from '../work/firm.ts';
import { answerLoad } from './loadAnswers.ts';
import type { FigureQuestion, LoadQuestion, ReckonQuestion } from './questions.ts';

/** What a firm's figures lean on, kept from one question to the next; only what changed is read again. */
export interface FigureDesk {
  /** All facts of one property, whether it is known already or not. */
  keepProperty(property: string, facts: readonly AnyFact[]): void;
  /** More facts of the firm itself. */
  keepFirm(facts: readonly AnyFact[]): void;
  /** As the text that goes out: turning a large answer into JSON is work that phones should not wait for either. */
  answer(question: ReckonQuestion, firm: FirmState): string;
}

interface Kept {
  readonly history: PropertyHistory;
  readonly state: PropertyState;
  readonly events: readonly StockEvent[];
}

interface Learned {
  readonly asOf: Day;
  readonly profiles: string;
  readonly risk: HitRisk;
  readonly wear: WearRates;
}

interface Read {
  readonly subjects: readonly FigureSubject[];
  readonly withoutProfile: readonly string[];
}

/**
 * Up to so many looks the risk is fitted anew whenever something changed, as it takes a moment; beyond, once a day, and in between the looks that
 * came are taken in (`updateHitRisk`). About half a second of one core.
 */
const LOOKS_FITTED_EVERY_TIME = 80_000;

/** A page shows three digits: half the text, half the time to send and read it. */
function toSixDigits(_: string, value: unknown): unknown {
  return typeof value === 'number' && !Number.isInteger(value) ? Number(value.toPrecision(6)) : value;
}

export function createFigureDesk(looksFittedEveryTime = LOOKS_FITTED_EVERY_TIME): FigureDesk {
  const properties = new Map<string, Kept>();
  const ofFirm = new Map<string, AnyFact>();
  const share = createSharing();
  /** Properties that changed since the risk was last brought up to date. */
  const changed = new Set<string>();
  let learned: Learned | undefined;
  let calibrated: { readonly asOf: Day; readonly of: ReturnType<typeof learnRisk> } | undefined;
  let read: Read | undefined;
  let lines: ReturnType<typeof foldStockEvents> | undefined;

  function readAll(firm: FirmState): Read {
    if (read !== undefined) return read;
    const subjects: FigureSubject[] = [];
    const withoutProfile: string[] = [];
    for (const [property, { history, state }] of properties) {
      const profile = firm.profiles[state.body?.profile ?? ''];
      if (profile === undefined) withoutProfile.push(property);
      else subjects.push(subjectOf(history, state, profile));
    }
    read = { subjects, withoutProfile };
    return read;
  }

  /** What all figures of a day share; of a day that was named it is learned anew and not kept. */
  function learn({ subjects }: Read, firm: FirmState, { asOf, isDayNamed }: ReckonQuestion): Learned {
    const profiles = JSON.stringify(firm.profiles);
    const fresh = (): Learned => ({
      asOf,
      profiles,
      risk: fitHitRisk(subjects, asOf),
      wear: learnWear(subjects, asOf),
    });
    if (isDayNamed === true && learned?.asOf !== asOf) return fresh();
    const isSame = learned?.asOf === asOf && learned.profiles === profiles;
    if (learned === undefined || !isSame) learned = fresh();
    else if (changed.size > 0 && learned.risk.looks <= looksFittedEveryTime) learned = fresh();
    else if (changed.size > 0) {
      const touched = subjects.filter(({ history }) => changed.has(history.property));
      learned = { ...learned, risk: updateHitRisk(learned.risk, touched, asOf) };
    }
    changed.clear();
    return learned;
  }

  function calibrate(all: Read, { risk, asOf }: Learned): ReturnType<typeof learnRisk> {
    const isKept = calibrated?.asOf === asOf && risk.looks > looksFittedEveryTime;
    calibrated = {
      asOf,
      of:
        calibrated !== undefined && isKept ? { ...calibrated.of, risk } : learnRisk(all.subjects, asOf, risk),
    };
    return calibrated.of;
  }

  function figures(question: FigureQuestion, firm: FirmState): string {
    const { name, branch, asOf, most } = question;
    const all = readAll(firm);
    const subjects = all.subjects.filter((one) => branch === null || one.branch === branch);
    const source: FigureSource = {
      subjects,
      withoutProfile: all.withoutProfile,
      firm,
      facts: [...ofFirm.values()],
      ...(name === 'risk' ? { learned: calibrate(all, learn(all, firm, question)) } : {}),
    };
    const whole = figureAnswer(name, source, asOf);
    if (most === undefined) return JSON.stringify(whole);
    const { answer, rowsLeftOut, properties: named } = cutRows(whole, most);
    const names = Object.fromEntries(
      named.map((property) => [property, properties.get(property)?.state.body?.name ?? property]),
    );
    return JSON.stringify({ ...Object(answer), rowsLeftOut, names }, toSixDigits);
  }

  function load(question: LoadQuestion, firm: FirmState): string {
    const all = readAll(firm);
    const { risk, wear } = learn(all, firm, question);
    return JSON.stringify(
      answerLoad(question.asked, {
        ...all,
        firm,
        models: modelsOf(firm),
        asOf: question.asOf,
        risk,
        wear,
        listRounds: () => foldRounds(ofFirm.values()),
        listOrders: () => foldOrders(ofFirm.values()),
        listStock: () => {
          lines ??= foldStockEvents([
            ...stockEvents(ofFirm.values()),
            ...[...properties.values()].flatMap(({ events }) => events),
          ]);
          return lines;
        },
      }),
    );
  }

  let lastFirm = '';
  return {
    keepProperty(property, facts) {
      const state = foldProperty(facts);
      read = undefined;
      lines = undefined;
      changed.add(property);
      // A property of which everything was withdrawn stands in no figure.
      if (state.body === null && state.structures.length + state.stations.length + state.visits.length === 0)
        properties.delete(property);
      else
        properties.set(property, {
          state,
          history: share(historyOf(property, facts)),
          events: stockEvents(facts),
        });
    },
    keepFirm(facts) {
      for (const fact of facts) ofFirm.set(fact.id, fact);
      lines = undefined;
    },
    answer(question, firm) {
      // Label profiles decide which property stands in a figure.
      const profiles = JSON.stringify(firm.profiles);
      if (profiles !== lastFirm) read = undefined;
      lastFirm = profiles;
      return question.name === 'load' ? load(question, firm) : figures(question, firm);
    },
  };
}
