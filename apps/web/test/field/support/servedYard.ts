import { createIdMaker } from '@sillwatch/server';
import {
  type AnyFact,
  clockToText,
  DEMO_PROFILE,
  type FactBodies,
  type FactKind,
  type Finding,
  foldProperty,
  type OpenedFinding,
  stepsFor,
  TWO_PART,
  workDone,
} from '@sillwatch/trade';

export const SERVED = 'served-yard';
export const COUNT = 24;
/** Feeding at its last look, a yearly service owed; nothing before; nothing before. */
export const FEEDING = 5;
export const HIT = 9;
export const LOST = 14;
export const servedStation = (number: number): string => `served-${number}`;

const MS_PER_DAY = 86_400_000;
const QUIET: OpenedFinding = {
  reach: 'opened',
  termites: 'none',
  baitLeft: 'no bait',
  monitor: 'sound',
  housing: 'sound',
  occupants: 'none',
};

/**
 * An invented property with 24 drawn stations, set 13 months before `now`, so that its yearly service is open: quiet but
 * for one station in which termites have been feeding.
 */
export function servedYard(firm: string, by: string, now: number): readonly AnyFact[] {
  const newId = createIdMaker(Date.now);
  const facts: AnyFact[] = [];
  let seq = 0;
  const add = <K extends FactKind>(daysAgo: number, station: string | null, kind: K, body: FactBodies[K]) => {
    seq += 1;
    const ms = now - daysAgo * MS_PER_DAY + seq * 1000;
    facts.push({
      id: newId(),
      firm,
      property: SERVED,
      station,
      by,
      device: 'office of the served yard',
      seq,
      at: `${new Date(ms).toISOString().slice(0, 19)}+00:00`,
      clock: clockToText({ ms, count: 0 }),
      kind,
      body,
    });
  };
  add(400, null, 'property added', {
    name: 'House of two dozen (invented)',
    branch: 'north',
    address: { street: '24 Pretend Lane', town: 'Nowhere Falls', state: 'FL', postcode: '00000' },
    customer: { name: 'Nobody', email: null, phone: null },
    timeZone: 'America/New_York',
    profile: DEMO_PROFILE.id,
    agreement: null,
    accessNotes: 'Gate on the left.',
    hazards: 'Steep bank behind the house.',
    position: { latitude: 28.5, longitude: -81.4 },
  });
  add(400, null, 'structure added', {
    structure: 'main',
    name: 'House',
    foundation: 'slab',
    outline: [
      [0, 0],
      [30, 0],
      [30, 18],
      [0, 18],
    ],
  });
  for (let number = 1; number <= COUNT; number += 1)
    add(395, servedStation(number), 'station installed', {
      structure: 'main',
      number,
      tag: `T-${String(number).padStart(3, '0')}`,
      model: TWO_PART.id,
      position: placeOf(number),
      auxiliary: false,
      visit: null,
      inserts: [
        { slot: 'base', insert: 'monitor' },
        { slot: 'top', insert: 'monitor' },
      ],
      application: null,
    });
  const look = (daysAgo: number, number: number, finding: Finding) => {
    const state = foldProperty(facts).stations.find(({ station }) => station === servedStation(number));
    if (state === undefined) throw new Error(`no station ${number}`);
    const steps = stepsFor({ state, model: TWO_PART, profile: DEMO_PROFILE, task: 'check', finding });
    add(daysAgo, servedStation(number), 'station seen', {
      visit: `served-${daysAgo}`,
      task: 'check',
      finding,
      work: workDone(steps),
      application:
        steps.baitGrams === 0
          ? null
          : {
              productName: DEMO_PROFILE.product.name,
              epaRegistrationNumber: DEMO_PROFILE.product.epaRegistrationNumber,
              grams: steps.baitGrams,
              location: `Station ${number}`,
              areaTreated: '1 station',
              site: 'Structure',
              applicatorName: 'Invented Applicator',
              certificationNumber: 'INV-9',
              appliedUnderSupervisionBy: null,
            },
      note: '',
      photos: [],
    });
  };
  look(150, FEEDING, { ...QUIET, termites: 'live on monitor' });
  for (let number = 1; number <= COUNT; number += 1)
    look(
      100,
      number,
      number === FEEDING ? { ...QUIET, termites: 'live on bait', baitLeft: 'three quarters' } : QUIET,
    );
  return facts;
}

/** Two dozen places at even steps round the house, 0.6 m off its walls. */
function placeOf(number: number): readonly [number, number] {
  const [wide, deep] = [31.2, 19.2];
  let along = ((number - 0.5) / COUNT) * 2 * (wide + deep);
  if (along < deep) return [-0.6, along - 0.6];
  along -= deep;
  if (along < wide) return [along - 0.6, 18.6];
  along -= wide;
  if (along < deep) return [30.6, 18.6 - along];
  return [30.6 - (along - deep), -0.6];
}
