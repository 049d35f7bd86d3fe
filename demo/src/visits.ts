import {
  type AnyFact,
  type Application,
  addDays,
  type Day,
  DEMO_PROFILE,
  type DueItem,
  dueWork,
  foldProperty,
  type PropertyState,
  STATION_MODELS,
  type StationModel,
  type StationState,
  type Steps,
  stepsFor,
  type Task,
  weekdayOf,
  workDone,
} from '@sillwatch/trade';
import { placesBeside } from './houses.ts';
import { type DemoPlace, installStation, monitorsOf } from './properties.ts';
import type { Chance } from './random.ts';
import { momentText, type Recorder } from './recorder.ts';
import { createSoil, drawFinding, type Soil } from './termites.ts';

/** How punctual the technician of one property is. */
export interface Habit {
  /** the last visits before today are not made, so that the demo has late work to show */
  readonly fallsBehind: boolean;
}

/** Makes the visits of one property from its installation to today, each by the rules, on the day that its due windows ask for. */
export function makeVisits(
  chance: Chance,
  recorder: Recorder,
  place: DemoPlace,
  habit: Habit,
  today: Day,
): void {
  const soil = createSoil(chance);
  const facts: AnyFact[] = [...recorder.facts];
  let last = place.installedOn;
  for (let visitNumber = 1; ; visitNumber += 1) {
    const { stations, structures } = foldProperty(facts);
    const { items } = dueWork(stations, DEMO_PROFILE, last);
    const day = chooseVisitDay(chance, items, last);
    if (day === undefined || day >= today) return;
    if (habit.fallsBehind && day > addDays(today, -150)) return;
    const before = recorder.facts.length;
    visitProperty(chance, recorder, place, soil, {
      stations,
      structures,
      items,
      day,
      visit: `${place.property}-v${visitNumber}`,
    });
    facts.push(...recorder.facts.slice(before));
    last = day;
  }
}

/** A working day near the first target; seldom a few weeks over. */
function chooseVisitDay(chance: Chance, items: readonly DueItem[], last: Day): Day | undefined {
  const first = items.reduce<DueItem | undefined>(
    (a, b) => (a === undefined || b.target < a.target ? b : a),
    undefined,
  );
  if (first === undefined) return undefined;
  const slip = chance.happens(0.05) ? chance.int(15, 40) : chance.int(-6, 6);
  let day = addDays(first.target, slip);
  if (day <= last) day = addDays(last, chance.int(7, 14));
  while (weekdayOf(day) > 5) day = addDays(day, 1);
  return day;
}

interface VisitPlan {
  readonly stations: readonly StationState[];
  readonly structures: PropertyState['structures'];
  readonly items: readonly DueItem[];
  readonly day: Day;
  readonly visit: string;
}

function visitProperty(
  chance: Chance,
  recorder: Recorder,
  place: DemoPlace,
  soil: Soil,
  plan: VisitPlan,
): void {
  const start = chance.int(8 * 60, 14 * 60);
  let minutes = start;
  let anyYearly = false;
  const at = (): string => momentText(plan.day, minutes, place.timeZone);
  for (const state of plan.stations.filter((station) => station.inService)) {
    const model = getModel(state.model);
    if (replaceWhereAsked(chance, recorder, place, soil, plan, state, model, at)) {
      minutes += 12;
      continue;
    }
    const task = taskAt(plan, state);
    anyYearly ||= task === 'yearly service';
    const finding = drawFinding(chance, soil, state, plan.day);
    const steps = stepsFor({ state, model, finding, task, profile: DEMO_PROFILE });
    const spent = task === 'yearly service' && steps.yearlyServiceDone ? chance.int(3, 6) : chance.int(1, 3);
    recorder.record(
      'station seen',
      { property: place.property, station: state.station },
      at(),
      place.technician.id,
      {
        visit: plan.visit,
        task,
        finding,
        work: workDone(steps, spent),
        application: applicationFor(steps, place, state),
        note: '',
        photos: [],
      },
    );
    minutes += spent;
    setAuxiliaries(chance, recorder, place, plan, state, steps, at());
    if (steps.countsAsHit) minutes += 10;
  }
  recorder.record('visit closed', { property: place.property, station: null }, at(), place.technician.id, {
    visit: plan.visit,
    task: anyYearly ? 'yearly service' : 'check',
    technician: place.technician.name,
    licenceNumber: place.technician.certificationNumber ?? 'none',
    startedAt: momentText(plan.day, start, place.timeZone),
    note: '',
  });
}

function taskAt(plan: VisitPlan, state: StationState): Task {
  const isYearlyOwed = plan.items.some(
    (item) =>
      item.station === state.station &&
      (item.work === 'yearly service' || item.work === 'carried-over service') &&
      item.earliest <= plan.day,
  );
  return isYearlyOwed ? 'yearly service' : 'check';
}

/** Where a replacement is owed, most are made at the next visit: the old place is given up and a new housing set beside it. */
function replaceWhereAsked(
  chance: Chance,
  recorder: Recorder,
  place: DemoPlace,
  soil: Soil,
  plan: VisitPlan,
  state: StationState,
  model: StationModel,
  at: () => string,
): boolean {
  const isAsked = plan.items.some((item) => item.station === state.station && item.work === 'replacement');
  if (!isAsked || !chance.happens(0.8)) return false;
  soil.lost.delete(state.station);
  recorder.record(
    'station replaced',
    { property: place.property, station: state.station },
    at(),
    place.technician.id,
    {
      model: model.id,
      why: 'not found at several visits',
      inserts: monitorsOf(model),
      application: null,
    },
  );
  return true;
}

function setAuxiliaries(
  chance: Chance,
  recorder: Recorder,
  place: DemoPlace,
  plan: VisitPlan,
  hit: StationState,
  steps: Steps,
  at: string,
): void {
  const outline = plan.structures.find((one) => one.structure === hit.structure)?.outline ?? null;
  const places = hit.position === null || outline === null ? [] : placesBeside(hit.position, outline);
  for (let n = 0; n < steps.auxiliaryStations; n += 1) {
    const position = places[n % Math.max(1, places.length)] ?? null;
    installStation(
      chance,
      recorder,
      {
        property: place.property,
        structure: hit.structure,
        number: place.nextStationNumber.value,
        position,
        model: getModel(hit.model),
        auxiliary: true,
        visit: plan.visit,
      },
      at,
      place.technician.id,
    );
    place.nextStationNumber.value += 1;
  }
}

function applicationFor(steps: Steps, place: DemoPlace, state: StationState): Application | null {
  if (steps.baitGrams === 0) return null;
  return {
    productName: DEMO_PROFILE.product.name,
    epaRegistrationNumber: DEMO_PROFILE.product.epaRegistrationNumber,
    grams: steps.baitGrams,
    location: `${place.address}, station ${state.number}`,
    areaTreated: '1 station',
    site: 'soil beside the foundation wall, in-ground station',
    applicatorName: place.technician.name,
    certificationNumber: place.technician.certificationNumber ?? '',
    appliedUnderSupervisionBy: null,
  };
}

function getModel(id: string): StationModel {
  const model = STATION_MODELS.find((candidate) => candidate.id === id);
  if (model === undefined) throw new Error(`no station model ${id}`);
  return model;
}
