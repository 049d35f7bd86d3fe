import { type AnyFact, DEMO_PROFILE } from '@sillwatch/trade';

/** Ten stations a house; every station is baited once. */
const STATIONS = 10;

/** An invented book with this many applications of bait; the same number gives the same facts. */
export function applicationFacts(
  count: number,
  { firm = 'firm', by = 'account' }: { readonly firm?: string; readonly by?: string } = {},
): readonly AnyFact[] {
  const facts: AnyFact[] = [];
  const add = (kind: string, property: string, station: string | null, body: unknown): void => {
    const seq = facts.length + 1;
    const at = new Date(Date.UTC(2025, 0, 10, 15) + seq * 600_000).toISOString();
    facts.push({
      id: idOf(seq),
      firm,
      property,
      station,
      kind,
      body,
      by,
      device: 'bench',
      seq,
      at,
      clock: `${String(Date.parse(at)).padStart(15, '0')}.00000`,
    });
  };
  for (let index = 0; index < count; index += 1) {
    const house = Math.floor(index / STATIONS);
    const property = `property-${house}`;
    const number = (index % STATIONS) + 1;
    if (number === 1) addHouse(add, property, house);
    const station = `${property}-s${number}`;
    add('station installed', property, station, {
      structure: `${property}-house`,
      number,
      tag: null,
      model: 'two-part',
      position: null,
      auxiliary: false,
      visit: null,
      inserts: [],
      application: null,
    });
    add('station seen', property, station, {
      visit: `visit-${house}`,
      task: 'check',
      finding: {
        reach: 'opened',
        termites: 'live on monitor',
        baitLeft: 'no bait',
        monitor: 'eaten',
        housing: 'sound',
        occupants: 'none',
      },
      work: {
        yearlyServiceDone: false,
        baseMonitorLifted: false,
        cleanedOut: false,
        fitted: [{ slot: 'top', insert: 'bait' }],
        withdrawn: [],
        partsUsed: { bait: 1 },
        minutes: 6,
      },
      application: {
        productName: 'Demo Bait (invented)',
        epaRegistrationNumber: '99999-999',
        grams: 100 + (index % 7) * 5,
        location: `station ${number}`,
        areaTreated: '1 station',
        site: 'dwelling',
        applicatorName: `Invented Applicator ${index % 9}`,
        certificationNumber: `INV-${index % 9}`,
        appliedUnderSupervisionBy: null,
      },
      note: '',
      photos: [],
    });
  }
  return facts;
}

/** In the shape of a UUIDv7 (RFC 9562), every one with other digits. */
function idOf(seq: number): string {
  const mix = (salt: number, digits: number): string =>
    (Math.imul(seq + salt, 0x9e3779b1) >>> 0).toString(16).padStart(8, '0').slice(-digits);
  return `${mix(0, 8)}-${mix(1, 4)}-7${mix(2, 3)}-8${mix(3, 3)}-${mix(4, 4)}${String(seq).padStart(8, '0')}`;
}

function addHouse(
  add: (kind: string, property: string, station: null, body: unknown) => void,
  property: string,
  house: number,
): void {
  add('property added', property, null, {
    name: `Invented house ${house}`,
    branch: 'branch',
    address: { street: `${house + 1} Marsh Lane`, town: 'Example Springs', state: 'FL', postcode: '00000' },
    customer: { name: `Ida Example ${house}`, email: null, phone: null },
    timeZone: 'America/New_York',
    profile: DEMO_PROFILE.id,
    agreement: null,
    accessNotes: '',
    hazards: '',
    position: null,
  });
  add('structure added', property, null, {
    structure: `${property}-house`,
    name: 'House',
    foundation: 'slab',
    outline: null,
  });
}
