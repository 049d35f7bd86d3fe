import {
  type AnyFact,
  type Application,
  DEMO_PROFILE,
  dayToText,
  foldProperty,
  getDay,
  type Task,
  type Work,
} from '@sillwatch/trade';
import { type FigureSubject, historyOf, subjectOf } from '../../src/index.ts';

export interface SeenOptions {
  readonly termites?: 'none' | 'signs only' | 'live on monitor' | 'live on bait';
  readonly reach?: 'opened' | 'blocked';
  readonly monitor?: 'sound' | 'missing';
  readonly baitLeft?: 'no bait' | 'half';
  readonly task?: Task;
  readonly work?: Partial<Work>;
  readonly application?: Application;
  readonly by?: string;
}

/** Writes an invented property's facts by hand. */
export interface Writer {
  install(day: string, station: string, structure?: string): void;
  see(day: string, station: string, options?: SeenOptions): void;
  put(day: string, kind: string, body: unknown, property?: string | null, station?: string | null): void;
  readonly facts: readonly AnyFact[];
  subject(): FigureSubject;
}

const NO_WORK: Work = {
  yearlyServiceDone: false,
  baseMonitorLifted: false,
  cleanedOut: false,
  fitted: [],
  withdrawn: [],
  partsUsed: {},
  minutes: null,
};

export function writeFacts(property = 'p1', branch = 'b1'): Writer {
  const facts: AnyFact[] = [];
  let number = 0;
  const put: Writer['put'] = (day, kind, body, of = property, station = null) => {
    const seq = facts.length + 1;
    const at = `${dayToText(getDay(day))}T${String(8 + (Math.floor(seq / 60) % 12)).padStart(2, '0')}:${String(seq % 60).padStart(2, '0')}:00Z`;
    facts.push({
      id: `${property}-${seq}`,
      firm: 'f',
      property: of,
      station,
      by: 'person-a',
      device: 'd',
      seq,
      at,
      clock: `${String(seq).padStart(15, '0')}.00000`,
      kind,
      body,
    });
  };
  put('2020-01-01', 'property added', {
    name: property,
    branch,
    address: { street: '1', town: 't', state: 'ZZ', postcode: '00011' },
    customer: { name: 'n', email: null, phone: null },
    timeZone: 'America/New_York',
    profile: DEMO_PROFILE.id,
    agreement: { startsOn: '2020-01-01', renewsOn: '2026-12-20' },
    accessNotes: '',
    hazards: '',
    position: null,
  });
  return {
    put,
    facts,
    install(day, station, structure = 'house') {
      number += 1;
      const inserts = [
        { slot: 'base', insert: 'monitor' },
        { slot: 'top', insert: 'monitor' },
      ];
      const body = {
        structure,
        number,
        tag: null,
        model: 'two-part',
        position: null,
        auxiliary: false,
        visit: null,
        inserts,
        application: null,
      };
      put(day, 'station installed', body, property, station);
    },
    see(day, station, options = {}) {
      const {
        termites = 'none',
        reach = 'opened',
        monitor = 'sound',
        baitLeft = 'no bait',
        task = 'check',
      } = options;
      const finding =
        reach === 'opened'
          ? { reach, termites, baitLeft, monitor, housing: 'sound', occupants: 'none' }
          : { reach, why: 'pallet on top' };
      put(
        day,
        'station seen',
        {
          visit: `v-${day}`,
          task,
          finding,
          work: { ...NO_WORK, ...options.work },
          application: options.application ?? null,
          note: '',
          photos: [],
        },
        property,
        station,
      );
      const last = facts.at(-1);
      if (last !== undefined && options.by !== undefined)
        facts[facts.length - 1] = { ...last, by: options.by };
    },
    subject: () => subjectOf(historyOf(property, facts), foldProperty(facts), DEMO_PROFILE),
  };
}

export const BAIT_IN: Partial<Work> = {
  fitted: [{ slot: 'top', insert: 'bait' }],
  partsUsed: { 'bait-insert': 1 },
};

export function applicationOf(grams: number): Application {
  return {
    productName: DEMO_PROFILE.product.name,
    epaRegistrationNumber: DEMO_PROFILE.product.epaRegistrationNumber,
    grams,
    location: 'p1',
    areaTreated: '1 station',
    site: 'soil',
    applicatorName: 'a',
    certificationNumber: '1',
    appliedUnderSupervisionBy: null,
  };
}
