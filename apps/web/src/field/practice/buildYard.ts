import {
  type AnyFact,
  assessClearance,
  clockToText,
  type Day,
  DEMO_PROFILE,
  dayToText,
  type FactBodies,
  type FactKind,
  foldProperty,
  type LabelProfile,
  stepsFor,
  TWO_PART,
  uuidV7,
  workDone,
} from '@sillwatch/trade';
import type { Me } from '../../api/types.ts';
import { MISSED_BEFORE, SCENES, type SceneKey } from './scenes.ts';

export const PRACTICE_PROPERTY = 'practice-yard';
const STRUCTURE = 'practice-house';
const PROFILE: LabelProfile = DEMO_PROFILE;
/** Set so long ago that the yearly service is open and not late: 12 to 15 months. */
const INSTALLED_DAYS_AGO = 410;
const MS_PER_DAY = 86_400_000;

/** Everybody and everything here is invented. */
export const PRACTICE_ME: Me = {
  id: 'practice-person',
  name: 'Practice',
  email: 'practice@example.test',
  role: 'technician',
  branch: null,
  licenceNumber: 'PRACTICE-0',
  certificationNumber: 'PRACTICE-0',
  mustChangePassword: false,
  twoFactor: false,
  firm: { id: 'practice-firm', name: 'Practice' },
  demo: true,
};

/** The house with its corner, metres; stations 0.6 m off its walls, numbered round it from the south-west. */
const OUTLINE = [
  [0, 0],
  [15, 0],
  [15, 6],
  [9, 6],
  [9, 11],
  [0, 11],
] as const;
const PLACES: readonly (readonly [number, number])[] = [
  [-0.6, 1.5],
  [-0.6, 6],
  [-0.6, 10],
  [3, 11.6],
  [7.6, 11.6],
  [9.6, 8.8],
  [12, 6.6],
  [15.6, 5],
  [15.6, 1],
  [12.5, -0.6],
  [7.5, -0.6],
  [2.5, -0.6],
];

export interface Yard {
  readonly firmFacts: readonly AnyFact[];
  readonly facts: readonly AnyFact[];
  readonly sceneByStation: ReadonlyMap<string, SceneKey>;
}

export function stationOf(scene: SceneKey): string {
  return `practice-${scene}`;
}

/** The yard as facts: a year and more of visits, each look followed as the rules asked. Same day and names, same yard. */
export function buildYard(
  today: Day,
  timeZone: string,
  names: { readonly yard: string; readonly house: string; readonly why: string },
): Yard {
  const recorder = createRecorder(today);
  const { record, facts } = recorder;
  const firmFacts: AnyFact[] = [];
  firmFacts.push(
    recorder.make(INSTALLED_DAYS_AGO + 1, 'profile set', null, null, { ...PROFILE, id: PROFILE.id }),
  );
  record(INSTALLED_DAYS_AGO, 'property added', null, {
    name: names.yard,
    branch: 'practice-branch',
    address: { street: '1 Practice Lane', town: 'Nowhere', state: 'ZZ', postcode: '00000' },
    customer: { name: names.yard, email: null, phone: null },
    timeZone,
    profile: PROFILE.id,
    agreement: null,
    accessNotes: '',
    hazards: '',
    position: null,
  });
  record(INSTALLED_DAYS_AGO, 'structure added', null, {
    structure: STRUCTURE,
    name: names.house,
    foundation: 'slab',
    outline: OUTLINE,
  });
  record(INSTALLED_DAYS_AGO, 'site drawn', null, {
    hardSurfaces: [
      {
        id: 'practice-drive',
        kind: 'drive',
        outline: [
          [9.5, -6],
          [12, -6],
          [12, -1.2],
          [9.5, -1.2],
        ],
      },
    ],
    keepOuts: [],
    plantings: [
      {
        id: 'practice-bed',
        kind: 'planting',
        outline: [
          [0.5, 12.4],
          [6, 12.4],
          [6, 13.6],
          [0.5, 13.6],
        ],
      },
    ],
    concerns: [],
    fences: [
      {
        id: 'practice-fence',
        path: [
          [-4, 15],
          [-4, 2.8],
        ],
      },
    ],
    gates: [{ id: 'practice-gate', at: [-4, 3.5], widthMetres: 1.2 }],
    parking: [10.7, -5],
  });
  SCENES.forEach(({ key }, index) => {
    record(INSTALLED_DAYS_AGO, 'station installed', stationOf(key), {
      structure: STRUCTURE,
      number: index + 1,
      tag: `P-${String(index + 1).padStart(2, '0')}`,
      model: TWO_PART.id,
      position: PLACES[index] ?? null,
      auxiliary: false,
      visit: null,
      inserts: [
        { slot: 'base', insert: 'monitor' },
        { slot: 'top', insert: 'monitor' },
      ],
      application: null,
    });
  });
  const looks = SCENES.flatMap(({ key, before }) => before.map((look) => ({ key, ...look })));
  const all = [...looks, { key: MISSED_BEFORE.scene, ...MISSED_BEFORE }].toSorted(
    (a, b) => b.daysAgo - a.daysAgo,
  );
  for (const { key, daysAgo, finding: found } of all) {
    const finding = found.reach === 'opened' ? found : { ...found, why: names.why };
    const state = foldProperty(facts).stations.find(({ station }) => station === stationOf(key));
    if (state === undefined) continue;
    const steps = stepsFor({
      state: assessClearance(state, PROFILE),
      model: TWO_PART,
      profile: PROFILE,
      task: 'check',
      finding,
    });
    record(daysAgo, 'station seen', stationOf(key), {
      visit: `practice-visit-${daysAgo}`,
      task: 'check',
      finding,
      work: workDone(steps),
      application:
        steps.baitGrams > 0
          ? {
              productName: PROFILE.product.name,
              epaRegistrationNumber: PROFILE.product.epaRegistrationNumber,
              grams: steps.baitGrams,
              location: names.yard,
              areaTreated: '1',
              site: names.house,
              applicatorName: PRACTICE_ME.name,
              certificationNumber: PRACTICE_ME.certificationNumber ?? '',
              appliedUnderSupervisionBy: null,
            }
          : null,
      note: '',
      photos: [],
    });
  }
  return {
    firmFacts,
    facts,
    sceneByStation: new Map(SCENES.map(({ key }) => [stationOf(key), key])),
  };
}

/** Facts of an invented device, at noon UTC of their day. */
function createRecorder(today: Day) {
  const facts: AnyFact[] = [];
  let seq = 0;
  const make = <K extends FactKind>(
    daysAgo: number,
    kind: K,
    property: string | null,
    station: string | null,
    body: FactBodies[K],
  ): AnyFact => {
    seq += 1;
    const ms = (today - daysAgo) * MS_PER_DAY + 12 * 3_600_000 + seq * 1000;
    const random = new Uint8Array(10);
    new DataView(random.buffer).setUint32(6, seq);
    return {
      id: uuidV7(ms, random),
      firm: PRACTICE_ME.firm.id,
      property,
      station,
      by: PRACTICE_ME.id,
      device: 'practice-device',
      seq,
      at: `${dayToText((today - daysAgo) as Day)}T${new Date(ms).toISOString().slice(11, 19)}+00:00`,
      clock: clockToText({ ms, count: 0 }),
      kind,
      body,
    };
  };
  return {
    facts,
    make,
    record<K extends FactKind>(daysAgo: number, kind: K, station: string | null, body: FactBodies[K]): void {
      facts.push(make(daysAgo, kind, PRACTICE_PROPERTY, station, body));
    },
  };
}
