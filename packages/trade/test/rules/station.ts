import {
  ALWAYS_BAITED,
  DEMO_PROFILE,
  dayFromCivil,
  type LabelProfile,
  ONE_PART,
  type StationModel,
  type StationState,
  TWO_PART,
} from '../../src/index.ts';

export const MODELS: readonly StationModel[] = [TWO_PART, ONE_PART, ALWAYS_BAITED];

/** A station installed on 2025-03-01 and never opened since, unless told otherwise. */
export function stationOf(model: StationModel, changes: Partial<StationState> = {}): StationState {
  return {
    station: 's1',
    property: 'p1',
    structure: 'b1',
    number: 1,
    tag: null,
    model: model.id,
    position: null,
    auxiliary: false,
    inService: true,
    installedOn: dayFromCivil(2025, 3, 1),
    slots: model.slots.map((slot) => ({ slot: slot.id, insert: null, fittedOn: null })),
    lastOpenedOn: null,
    lastYearlyOn: null,
    phase: 'monitoring',
    firstHitOn: null,
    openHitOn: null,
    feedingSince: null,
    feedingLastSeenOn: null,
    feedingEndedOn: null,
    baitedOn: null,
    baitLeft: 'no bait',
    termiteFreeLooks: 0,
    termiteFreeOn: [],
    clearedOn: null,
    carriedOverOn: null,
    missesInARow: 0,
    missedSince: null,
    disturbedWhileFeeding: false,
    doubtfulClocks: [],
    ...changes,
  };
}

/** The demo profile with some of its values changed. */
export function profileWith(values: {
  readonly idleBait?: 'stays' | 'renewed' | 'withdrawn';
  readonly clearBait?: 'stays' | 'withdrawn';
  readonly monitorWithSigns?: 'kept' | 'renewed';
  readonly auxiliaryStations?: number;
  readonly addBaitAtOrUnder?: number;
}): LabelProfile {
  const base = DEMO_PROFILE;
  return {
    ...base,
    idleBait: { ...base.idleBait, value: values.idleBait ?? base.idleBait.value },
    clearBait: { ...base.clearBait, value: values.clearBait ?? base.clearBait.value },
    monitorWithSigns: {
      ...base.monitorWithSigns,
      value: values.monitorWithSigns ?? base.monitorWithSigns.value,
    },
    auxiliaryStations: {
      ...base.auxiliaryStations,
      value: values.auxiliaryStations ?? base.auxiliaryStations.value,
    },
    addBaitAtOrUnder: {
      ...base.addBaitAtOrUnder,
      value: values.addBaitAtOrUnder ?? base.addBaitAtOrUnder.value,
    },
  };
}
