import type { StationModel } from '../models.ts';
import type { InsertKind } from '../words.ts';
import { type CautionKey, STEP_CAUTIONS } from './cautions.ts';
import { decideStation, type StationDecision } from './decideStation.ts';
import { STEP_IDS, type Step, type StepId, type Steps, type StepsInput } from './steps.ts';
import type { TellKey } from './tell.ts';

/**
 * The ordered steps at this station now, with the row behind each; parts, grams of product, what stays owed, what to tell.
 * Never asks to pull, clean out or dig where live termites were found. Common practice, no source; numbers from the profile.
 */
export function stepsFor(input: StepsInput): Steps {
  return stepsOf(decideStation(input), input);
}

/** Turns the tables' answers into steps for the model's slots; depends on nothing but the two. */
export function stepsOf(
  decision: StationDecision,
  { model, profile }: Pick<StepsInput, 'model' | 'profile'>,
): Steps {
  const steps = listSteps(decision, model);
  const partsUsed: Record<string, number> = {};
  for (const step of steps) {
    for (const [part, count] of Object.entries(step.parts)) partsUsed[part] = (partsUsed[part] ?? 0) + count;
  }
  const baits = steps.filter((step) => step.insert === 'bait').length;
  return {
    steps,
    partsUsed,
    baitGrams: baits * profile.baitGramsPerInsert.value,
    carriedOver: decision.service === 'carried over',
    yearlyServiceDone: decision.service === 'done',
    housingReplaced: decision.housingReplaced,
    countsAsHit: decision.activity === 'hit' || decision.activity === 'feeding',
    countsAsFeeding: decision.activity === 'feeding',
    auxiliaryStations: decision.asksAuxiliary ? 2 * profile.auxiliaryStations.value : 0,
    replacementAsked: decision.next === 'replacement',
    next: decision.next,
    tell: listTold(decision),
    cautions: listCautions(decision, steps),
    fired: decision.fired.map(({ table, row }) => ({ table: table.id, row: row.id, reads: row.reads })),
  };
}

/** In the order of work (STEP_IDS); a step that several rows ask for is done once, for the first of them. */
function listSteps(decision: StationDecision, model: StationModel): readonly Step[] {
  const askedBy = new Map<StepId, StationDecision['fired'][number]>();
  for (const fired of decision.fired) {
    for (const id of fired.row.steps ?? []) {
      if (!askedBy.has(id)) askedBy.set(id, fired);
    }
  }
  const steps: Step[] = [];
  for (const id of STEP_IDS) {
    const asked = askedBy.get(id);
    if (asked === undefined) continue;
    const place = findPlace(id, decision, model);
    if (place === undefined) continue;
    steps.push({ id, table: asked.table.id, row: asked.row.id, reason: asked.row.reads, ...place });
  }
  return steps;
}

interface Place {
  readonly slot: string | null;
  readonly insert: InsertKind | null;
  readonly parts: Readonly<Record<string, number>>;
}
const ANYWHERE: Place = { slot: null, insert: null, parts: {} };

/** Slot, insert and parts of a step in this model; undefined where the model has no such slot or bait stands in it. */
function findPlace(id: StepId, decision: StationDecision, model: StationModel): Place | undefined {
  const { base, top, bait } = decision.shape;
  const holdsBait = (slot: { readonly id: string }): boolean => slot.id === bait?.id && decision.baitPresent;
  const willHoldBait = (slot: { readonly id: string }): boolean => slot.id === bait?.id && decision.baitAfter;
  switch (id) {
    case 'lift the top monitor':
      return top === undefined || holdsBait(top) ? undefined : { ...ANYWHERE, slot: top.id };
    case 'lift the base monitor, every piece of it':
      return base === undefined || holdsBait(base) ? undefined : { ...ANYWHERE, slot: base.id };
    case 'fit a new base monitor':
      return base === undefined || willHoldBait(base)
        ? undefined
        : { slot: base.id, insert: 'monitor', parts: countOne(model.parts.baseMonitor) };
    case 'fit a new top monitor':
      return top === undefined || willHoldBait(top)
        ? undefined
        : { slot: top.id, insert: 'monitor', parts: countOne(model.parts.topMonitor) };
    case 'put the monitor back': {
      const slot = top ?? base;
      return slot === undefined || holdsBait(slot) ? undefined : { ...ANYWHERE, slot: slot.id };
    }
    case 'insert bait without pulling the base monitor':
    case 'add bait without pulling the base monitor':
    case 'renew bait':
      return bait === undefined
        ? undefined
        : { slot: bait.id, insert: 'bait', parts: countOne(model.parts.bait) };
    case 'withdraw bait':
    case 'lift the bait and set it aside':
    case 'put the bait back':
    case 'estimate bait left':
      return { ...ANYWHERE, slot: bait?.id ?? null };
    case 'fit a new cap':
      return { ...ANYWHERE, parts: countOne(model.parts.cap) };
    case 'dig out and set a new housing':
      return { ...ANYWHERE, parts: countOne(model.parts.housing) };
    case 'record why and take a photo':
    case 'ask for a replacement':
    case 'sweep and open':
    case 'let occupants settle or move them':
    case 'let occupants settle and move nothing':
    case 'look only':
    case 'record signs':
    case 'bail out water':
    case 'clear soil':
    case 'clear debris from the housing':
    case 'firm the housing':
    case 'leave the housing as it is until the termites have gone':
    case 'mark the housing for replacement when feeding has ended':
    case 'ask for auxiliary stations':
    case 'tell the office':
    case 'close and lock the cap':
      return ANYWHERE;
  }
}

function countOne(part: string | null): Readonly<Record<string, number>> {
  return part === null ? {} : { [part]: 1 };
}

function listTold(decision: StationDecision): readonly TellKey[] {
  return [...new Set(decision.fired.flatMap(({ row }) => row.tell ?? []))];
}

function listCautions(decision: StationDecision, steps: readonly Step[]): readonly CautionKey[] {
  return [
    ...new Set([
      ...decision.fired.flatMap(({ row }) => row.cautions ?? []),
      ...steps.flatMap((step) => STEP_CAUTIONS[step.id] ?? []),
    ]),
  ];
}
