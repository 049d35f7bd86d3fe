import { baitAmountOf, hitStandingOf, ledgerHoldsBait, type ModelShape, shapeOf } from './situation.ts';
import type { StepsInput } from './steps.ts';
import { type AnyRow, type AnyTable, decide } from './table.ts';
import { AUXILIARY } from './tables/auxiliary.ts';
import { BAIT_ASIDE } from './tables/baitAside.ts';
import { CLEAN_OUT } from './tables/cleanOut.ts';
import { DIG_OUT } from './tables/digOut.ts';
import { DISTURB } from './tables/disturb.ts';
import { FINDING } from './tables/finding.ts';
import { HOUSING } from './tables/housing.ts';
import { IDLE_BAIT } from './tables/idleBait.ts';
import type { Activity } from './tables/inputs.ts';
import { LEDGER_BAIT } from './tables/ledgerBait.ts';
import { LIVE_BAIT } from './tables/liveBait.ts';
import { MONITOR } from './tables/monitor.ts';
import { NEXT_INTERVAL } from './tables/nextInterval.ts';
import { OCCUPANTS_TABLE } from './tables/occupants.ts';
import { REACH } from './tables/reach.ts';
import { TELL_CUSTOMER } from './tables/tellCustomer.ts';
import { YEARLY_SERVICE } from './tables/yearlyService.ts';

export interface Fired {
  readonly table: AnyTable;
  readonly row: AnyRow;
}

/** What the tables say at one station, before it is turned into steps for the model's slots. */
export interface StationDecision {
  /** One row a table, in the order in which they are asked. */
  readonly fired: readonly Fired[];
  readonly activity: Activity;
  readonly shape: ModelShape;
  readonly baitPresent: boolean;
  /** Bait is in the station when the cap is closed. */
  readonly baitAfter: boolean;
  readonly service: 'done' | 'carried over' | 'not done';
  readonly housingReplaced: boolean;
  readonly asksAuxiliary: boolean;
  readonly next: 'check' | 'baited check' | 'missed station' | 'replacement';
}

const UNSEEN = {
  termites: 'none',
  baitLeft: 'no bait',
  monitor: 'no monitor',
  housing: 'sound',
  occupants: 'none',
} as const;

/** Asks every table once. Live termites decide: whatever contradicts them in the record or the ledger gives way. */
export function decideStation(input: StepsInput): StationDecision {
  const { state, model, finding, task, profile } = input;
  const seen = finding.reach === 'opened' ? finding : UNSEEN;
  const shape = shapeOf(model);
  const hit = hitStandingOf(input);
  const monitor = shape.monitorSlots === 'none' ? 'no monitor' : seen.monitor;
  const bait = baitAmountOf(seen.baitLeft, state, profile.addBaitAtOrUnder.value);

  const reach = decide(REACH, {
    reach: finding.reach,
    misses:
      state.missesInARow + 1 >= profile.missesBeforeReplacement.value ? 'at the limit' : 'under the limit',
  });
  const found = decide(FINDING, {
    reach: finding.reach,
    termites: seen.termites,
    monitorSlots: shape.monitorSlots,
  });
  const activity = found.answer;
  const disturb = decide(DISTURB, { finding: activity });
  const mayMove = disturb.answer;
  const tell = decide(TELL_CUSTOMER, {
    finding: activity,
    fedBefore: yesNo(state.phase === 'feeding'),
    becomesClear: yesNo(hit.becomesClear),
  });
  const yearly = decide(YEARLY_SERVICE, {
    task,
    mayMove,
    carriedOverBefore: yesNo(state.carriedOverOn !== null),
  });
  const serviceDone = yesNo(yearly.answer === 'done');
  const occupants = decide(OCCUPANTS_TABLE, { mayMove, occupants: seen.occupants });
  const dig = decide(DIG_OUT, { mayMove, housing: seen.housing, monitor, serviceDone });
  const digOut = yesNo(dig.answer === 'dig out');
  const housing = decide(HOUSING, { mayMove, housing: seen.housing, digOut });
  const ledgerBait = decide(LEDGER_BAIT, {
    opened: yesNo(finding.reach === 'opened'),
    baitSeen: yesNo(seen.baitLeft !== 'no bait' || seen.termites === 'live on bait'),
    baitInLedger: yesNo(ledgerHoldsBait(state)),
  });
  const liveBait = decide(LIVE_BAIT, { finding: activity, bait, baitPlace: shape.baitPlace });
  const idleBait = decide(IDLE_BAIT, {
    mayMove,
    bait,
    alwaysBaited: yesNo(shape.monitorSlots === 'none'),
    clear: yesNo(hit.clear),
    idleBait: profile.idleBait.value,
    clearBait: profile.clearBait.value,
  });
  const monitors = decide(MONITOR, {
    finding: activity,
    monitorSlots: shape.monitorSlots,
    digOut,
    serviceDone,
    monitor,
    monitorWithSigns: profile.monitorWithSigns.value,
  });
  const cleanOut = decide(CLEAN_OUT, { mayMove, serviceDone, digOut });
  const aside = decide(BAIT_ASIDE, {
    mayMove,
    baitStays: yesNo(idleBait.answer === 'stays'),
    insideWorkedOn: yesNo(
      digOut === 'yes' ||
        cleanOut.answer === 'yes' ||
        monitors.answer === 'renewed' ||
        monitors.answer === 'fitted',
    ),
  });
  const auxiliary = decide(AUXILIARY, {
    finding: activity,
    hitKnown: yesNo(hit.known),
    profileAsks: yesNo(profile.auxiliaryStations.value > 0),
    isAuxiliary: yesNo(state.auxiliary),
  });
  const baitPresent = activity === 'feeding' || seen.baitLeft !== 'no bait';
  const baitAfter = holdsBaitAfter(liveBait.answer, idleBait.answer, baitPresent);
  const next = decide(NEXT_INTERVAL, {
    finding: activity,
    missedTooOften: yesNo(reach.answer === 'missed too often'),
    holdsBait: yesNo(baitAfter),
    hitOpen: yesNo(hit.openAfter),
  });

  return {
    fired: [
      { table: REACH, row: reach },
      { table: FINDING, row: found },
      { table: DISTURB, row: disturb },
      { table: TELL_CUSTOMER, row: tell },
      { table: YEARLY_SERVICE, row: yearly },
      { table: OCCUPANTS_TABLE, row: occupants },
      { table: DIG_OUT, row: dig },
      { table: HOUSING, row: housing },
      { table: LEDGER_BAIT, row: ledgerBait },
      { table: LIVE_BAIT, row: liveBait },
      { table: IDLE_BAIT, row: idleBait },
      { table: MONITOR, row: monitors },
      { table: CLEAN_OUT, row: cleanOut },
      { table: BAIT_ASIDE, row: aside },
      { table: AUXILIARY, row: auxiliary },
      { table: NEXT_INTERVAL, row: next },
    ],
    activity,
    shape,
    baitPresent,
    baitAfter,
    service: yearly.answer,
    housingReplaced: digOut === 'yes',
    asksAuxiliary: auxiliary.answer === 'yes',
    next: next.answer,
  };
}

function holdsBaitAfter(live: string, idle: string, baitPresent: boolean): boolean {
  if (live === 'insert' || live === 'add' || idle === 'renewed') return true;
  if (idle === 'withdrawn' || idle === 'no bait') return false;
  return baitPresent;
}

function yesNo(truth: boolean): 'yes' | 'no' {
  return truth ? 'yes' : 'no';
}
