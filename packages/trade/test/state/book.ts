import {
  type AnyFact,
  type Application,
  type FactBodies,
  type FactKind,
  type Finding,
  type OpenedFinding,
  tickClock,
  uuidV7,
  type Work,
} from '../../src/index.ts';
import { getMoment } from '../../src/units/index.ts';

/** Writes facts for tests: one device each, ids from a counter, times as given. */
export function createBook(device = 'phone-a', firm = 'firm-1', property = 'property-1') {
  const facts: AnyFact[] = [];
  let clock: string | undefined;
  const add = <K extends FactKind>(
    kind: K,
    station: string | null,
    at: string,
    body: FactBodies[K],
    recordedMs?: number,
  ): AnyFact => {
    clock = tickClock(clock, recordedMs ?? getMoment(at).epochMs);
    const seq = facts.length + 1;
    const random = Uint8Array.from(
      { length: 10 },
      (_, index) => (seq * 31 + index * 7 + device.charCodeAt(device.length - 1)) % 256,
    );
    const fact: AnyFact = {
      id: uuidV7(getMoment(at).epochMs, random),
      firm,
      property,
      station,
      by: 'person-1',
      device,
      seq,
      at,
      clock,
      kind,
      body,
    };
    facts.push(fact);
    return fact;
  };
  return {
    facts,
    add,
    install: (station: string, at: string, number = 1): AnyFact =>
      add('station installed', station, at, {
        structure: 'house',
        number,
        tag: null,
        model: 'two-part',
        position: null,
        auxiliary: false,
        visit: null,
        inserts: [
          { slot: 'base', insert: 'monitor' },
          { slot: 'top', insert: 'monitor' },
        ],
        application: null,
      }),
    see: (
      station: string,
      at: string,
      finding: Finding,
      work: Partial<Work> = {},
      more: Partial<FactBodies['station seen']> = {},
    ): AnyFact =>
      add('station seen', station, at, {
        visit: `visit-${at.slice(0, 10)}`,
        task: 'check',
        finding,
        work: { ...NO_WORK, ...work },
        application: null,
        note: '',
        photos: [],
        ...more,
      }),
  };
}

export const NO_WORK: Work = {
  yearlyServiceDone: false,
  baseMonitorLifted: false,
  cleanedOut: false,
  fitted: [],
  withdrawn: [],
  partsUsed: {},
  minutes: null,
};

export function opened(finding: Partial<OpenedFinding> = {}): OpenedFinding {
  return {
    reach: 'opened',
    termites: 'none',
    baitLeft: 'no bait',
    monitor: 'sound',
    housing: 'sound',
    occupants: 'none',
    ...finding,
  };
}

export const BAIT_IN_TOP: Partial<Work> = { fitted: [{ slot: 'top', insert: 'bait' }] };

export const APPLICATION: Application = {
  productName: 'Test bait (invented)',
  epaRegistrationNumber: '99999-999',
  grams: 100,
  location: 'north wall, station 1',
  areaTreated: '1 station',
  site: 'soil beside the foundation wall',
  applicatorName: 'A. Person',
  certificationNumber: 'ZZ-1',
  appliedUnderSupervisionBy: null,
};
