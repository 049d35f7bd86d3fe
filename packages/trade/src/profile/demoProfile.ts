import type { LabelProfile, Sourced, WindowRule } from './labelProfile.ts';

const SOURCE = 'invented for the demo after common practice; not from any label';

function invented<T>(value: T): Sourced<T> {
  return { value, source: SOURCE, invented: true };
}

function months(earliest: number, target: number, latest: number): WindowRule {
  return {
    earliest: { months: earliest, days: 0 },
    target: { months: target, days: 0 },
    latest: { months: latest, days: 0 },
  };
}

function days(earliest: number, target: number, latest: number): WindowRule {
  return {
    earliest: { months: 0, days: earliest },
    target: { months: 0, days: target },
    latest: { months: 0, days: latest },
  };
}

/** Every number is invented: for the demo and the tests only. A firm enters those of its own label before its first record. */
export const DEMO_PROFILE: LabelProfile = {
  id: 'demo',
  name: 'Demo profile (invented)',
  invented: true,
  product: {
    name: 'Demo Bait (invented)',
    epaRegistrationNumber: '99999-999',
    activeIngredient: 'none (invented)',
    activeIngredientPercent: 0.5,
  },
  firstCheck: invented(days(60, 75, 90)),
  check: invented(months(2, 3, 4)),
  baitedCheck: invented(days(28, 45, 60)),
  yearlyService: invented(months(12, 13, 15)),
  carriedOverService: invented(days(0, 30, 90)),
  missedStation: invented(days(0, 14, 30)),
  missesBeforeReplacement: invented(3),
  addBaitAtOrUnder: invented(0.25),
  baitGramsPerInsert: invented(120),
  idleBait: invented('stays'),
  clearBait: invented('withdrawn'),
  clearAfterChecks: invented(3),
  auxiliaryStations: invented(1),
  monitorWithSigns: invented('renewed'),
  greatestSpacingMetres: invented(6.1),
  setbackMetres: invented({ nearest: 0.3, farthest: 1.2 }),
  treatedSoilClearanceMetres: invented(0.6),
  concernDistanceMetres: invented(1.5),
};
