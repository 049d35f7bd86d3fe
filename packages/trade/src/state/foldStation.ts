import type { FittedInsert, InstallBody, StationSeenBody } from '../facts/fact.ts';
import type { Day } from '../units/index.ts';
import type { OpenedFinding } from '../words.ts';
import type { Phase, SlotState, StationState } from './state.ts';

/** One station while its facts are folded; `finishStation` turns it into a StationState. */
export type StationDraft = {
  -readonly [K in keyof Omit<StationState, 'slots' | 'termiteFreeOn' | 'doubtfulClocks'>]: StationState[K];
} & { slots: SlotState[]; termiteFreeOn: Day[]; doubtfulClocks: string[] };

export function beginStation(station: string, property: string, body: InstallBody, day: Day): StationDraft {
  const { slots, phase, baitedOn } = afterInserts(body.inserts, day);
  return {
    station,
    property,
    structure: body.structure,
    number: body.number,
    tag: body.tag,
    model: body.model,
    position: body.position,
    auxiliary: body.auxiliary,
    inService: true,
    installedOn: day,
    slots,
    lastOpenedOn: null,
    lastYearlyOn: null,
    phase,
    firstHitOn: null,
    openHitOn: null,
    feedingSince: null,
    feedingLastSeenOn: null,
    feedingEndedOn: null,
    baitedOn,
    baitLeft: baitedOn === null ? 'no bait' : 'full',
    termiteFreeLooks: 0,
    termiteFreeOn: [],
    clearedOn: null,
    carriedOverOn: null,
    missesInARow: 0,
    missedSince: null,
    disturbedWhileFeeding: false,
    doubtfulClocks: [],
  };
}

/** A new housing in the old one's place: number, tag and firstHitOn stay, everything else begins again. */
export function replaceStation(
  draft: StationDraft,
  model: string,
  inserts: readonly FittedInsert[],
  day: Day,
): void {
  const { slots, phase, baitedOn } = afterInserts(inserts, day);
  draft.model = model;
  draft.inService = true;
  draft.installedOn = day;
  draft.slots = slots;
  draft.lastOpenedOn = null;
  draft.lastYearlyOn = null;
  draft.phase = phase;
  draft.openHitOn = null;
  draft.feedingSince = null;
  draft.feedingLastSeenOn = null;
  draft.feedingEndedOn = null;
  draft.baitedOn = baitedOn;
  draft.baitLeft = baitedOn === null ? 'no bait' : 'full';
  draft.termiteFreeLooks = 0;
  draft.termiteFreeOn = [];
  draft.carriedOverOn = null;
  draft.missesInARow = 0;
  draft.missedSince = null;
}

function afterInserts(
  inserts: readonly FittedInsert[],
  day: Day,
): { readonly slots: SlotState[]; readonly phase: Phase; readonly baitedOn: Day | null } {
  const slots = inserts.map(({ slot, insert }): SlotState => ({ slot, insert, fittedOn: day }));
  const isBaited = inserts.some(({ insert }) => insert === 'bait');
  return { slots, phase: isBaited ? 'baited' : 'monitoring', baitedOn: isBaited ? day : null };
}

export function seeStation(draft: StationDraft, body: StationSeenBody, day: Day): void {
  const { finding, work } = body;
  if (finding.reach !== 'opened') {
    draft.missesInARow += 1;
    draft.missedSince ??= day;
    return;
  }
  draft.missesInARow = 0;
  draft.missedSince = null;
  draft.lastOpenedOn = day;
  const isFeeding = finding.termites === 'live on bait';
  const isLive = isFeeding || finding.termites === 'live on monitor';
  if (isFeeding && (work.baseMonitorLifted || work.cleanedOut)) draft.disturbedWhileFeeding = true;
  seeTermites(draft, finding, day, isLive, isFeeding);
  // Bait that was seen counts although nobody recorded it. Its slot is not known: anything withdrawn takes it to be out.
  const keepsUnrecordedBait =
    (isFeeding || finding.baitLeft !== 'no bait') &&
    work.withdrawn.length === 0 &&
    draft.slots.every(({ insert }) => insert !== 'bait') &&
    draft.slots.some(({ slot }) => work.fitted.every((fitted) => fitted.slot !== slot));
  fitInserts(draft, work.fitted, work.withdrawn, day);
  if (work.yearlyServiceDone) {
    draft.lastYearlyOn = day;
    draft.carriedOverOn = null;
  } else if (body.task === 'yearly service' && isLive) {
    draft.carriedOverOn ??= day;
  }
  const holdsBait = draft.slots.some((slot) => slot.insert === 'bait') || keepsUnrecordedBait;
  draft.baitLeft = holdsBait ? baitLeftAfter(draft, work.fitted, finding) : 'no bait';
  if (holdsBait) draft.baitedOn ??= day;
  else draft.baitedOn = null;
  draft.phase = isFeeding
    ? 'feeding'
    : holdsBait
      ? 'baited'
      : draft.openHitOn !== null
        ? 'hit'
        : 'monitoring';
}

function seeTermites(
  draft: StationDraft,
  finding: OpenedFinding,
  day: Day,
  isLive: boolean,
  isFeeding: boolean,
): void {
  if (isLive) {
    draft.firstHitOn ??= day;
    draft.openHitOn ??= day;
    draft.termiteFreeOn = [];
    draft.termiteFreeLooks = 0;
  } else if (draft.openHitOn !== null) {
    draft.termiteFreeOn.push(day);
    draft.termiteFreeLooks += 1;
  }
  if (isFeeding) {
    // A new run of feeding begins when an earlier one was seen to have ended.
    if (draft.feedingSince === null || draft.feedingEndedOn !== null) draft.feedingSince = day;
    draft.feedingLastSeenOn = day;
    draft.feedingEndedOn = null;
  } else if (draft.feedingSince !== null && draft.feedingEndedOn === null) {
    draft.feedingEndedOn = day;
  }
  if (finding.monitor === 'missing' || finding.monitor === 'no monitor') {
    draft.slots = draft.slots.map((slot) =>
      slot.insert === 'monitor' ? { ...slot, insert: null, fittedOn: null } : slot,
    );
  }
}

function fitInserts(
  draft: StationDraft,
  fitted: readonly FittedInsert[],
  withdrawn: readonly string[],
  day: Day,
): void {
  if (fitted.length === 0 && withdrawn.length === 0) return;
  const slots = new Map(draft.slots.map((slot) => [slot.slot, slot]));
  for (const slot of withdrawn) slots.set(slot, { slot, insert: null, fittedOn: null });
  for (const { slot, insert } of fitted) slots.set(slot, { slot, insert, fittedOn: day });
  draft.slots = [...slots.values()];
}

function baitLeftAfter(
  draft: StationDraft,
  fitted: readonly FittedInsert[],
  finding: OpenedFinding,
): StationState['baitLeft'] {
  if (fitted.some(({ insert }) => insert === 'bait')) return 'full';
  return finding.baitLeft === 'no bait' ? draft.baitLeft : finding.baitLeft;
}
