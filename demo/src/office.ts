import {
  type AnyFact,
  addDays,
  type Day,
  type DayHours,
  DEMO_PROFILE,
  dayToText,
  foldProperty,
  PARTS,
  weekdayOf,
} from '@sillwatch/trade';
import { type DemoPlace, placeAt } from './properties.ts';
import { createChance } from './random.ts';
import { createRecorder, momentText, type Recorder } from './recorder.ts';
import { DEMO_BRANCHES, DEMO_DRIVERS, DEMO_PEOPLE } from './scenario.ts';
import { drawYard } from './yards.ts';

// Chances of their own: what the office adds leaves the histories of the same seed as they were.
const SURVEY_SEED = 0x51_7e;
const OFFICE_SEED = 0x0f_f1;

/** Draws the surroundings of properties, each on the afternoon of its installation. */
export interface Survey {
  draw(place: DemoPlace, facts: readonly AnyFact[]): void;
  readonly facts: readonly AnyFact[];
}

export function createSurvey(seed: number): Survey {
  const chance = createChance(seed ^ SURVEY_SEED);
  const recorder = createRecorder(chance, 'device-survey');
  return {
    facts: recorder.facts,
    draw: (place, facts) => {
      recorder.record(
        'site drawn',
        { property: place.property, station: null },
        momentText(place.installedOn, 17 * 60, place.timeZone),
        place.technician.id,
        drawYard(chance, foldProperty(facts)),
      );
    },
  };
}

const ZONE = 'America/New_York';
const FIRM = { property: null, station: null } as const;

/** What the office set, counted and was told up to the day before today: technicians, parts, stock, requests, absences. */
export function recordOffice(seed: number, today: Day, properties: number): readonly AnyFact[] {
  const recorder = createRecorder(createChance(seed ^ OFFICE_SEED), 'device-desk');
  setTechnicians(recorder, addDays(today, -120));
  setParts(recorder, addDays(today, -119));
  keepStock(recorder, today);
  takeRequests(recorder, today, properties);
  orderParts(recorder, today);
  return recorder.facts;
}

function setTechnicians(recorder: Recorder, day: Day): void {
  for (const driver of DEMO_DRIVERS) {
    const person = DEMO_PEOPLE.find(({ id }) => id === driver.person);
    if (person?.branch === undefined || person.branch === null)
      throw new Error(`no technician ${driver.person} with a branch`);
    const home = placeAt(driver.eastKm, driver.northKm);
    recorder.record('technician set', FIRM, momentText(day, 9 * 60, ZONE), 'person-lead', {
      person: person.id,
      name: person.name,
      branch: person.branch,
      licenceNumber: person.certificationNumber,
      start: home,
      end: home,
      hours: driver.weekdays.map((weekday): DayHours => ({ weekday, from: driver.from, to: driver.to })),
      breakMinutes: 30,
      mostOvertimeMinutes: 60,
      skills: driver.skills,
      active: true,
    });
  }
}

const BAIT_PARTS: readonly string[] = ['bait-insert', 'bait-cup'];

function setParts(recorder: Recorder, day: Day): void {
  for (const [part, name] of Object.entries(PARTS)) {
    const isHousing = part.startsWith('housing');
    recorder.record('part set', FIRM, momentText(day, 9 * 60, ZONE), 'person-lead', {
      part,
      name,
      packSize: isHousing ? 10 : 25,
      leadDays: isHousing ? 21 : 10,
      baitGrams: BAIT_PARTS.includes(part) ? DEMO_PROFILE.baitGramsPerInsert.value : null,
    });
  }
}

/** Two lots of bait came in, the older one nearly used up; every place was counted since. */
function keepStock(recorder: Recorder, today: Day): void {
  const lots = [
    { lot: 'INV-0412 (invented)', receivedOn: addDays(today, -110), usableUntil: addDays(today, 45) },
    { lot: 'INV-0977 (invented)', receivedOn: addDays(today, -25), usableUntil: addDays(today, 640) },
  ] as const;
  for (const { branch } of DEMO_BRANCHES) {
    for (const { lot, receivedOn, usableUntil } of lots) {
      for (const part of BAIT_PARTS)
        recorder.record('stock received', FIRM, momentText(receivedOn, 10 * 60, ZONE), 'person-lead', {
          place: branch,
          part,
          count: 25,
          lot,
          usableUntil: dayToText(usableUntil),
        });
    }
  }
  for (const [index, { branch }] of DEMO_BRANCHES.entries()) {
    const at = momentText(addDays(today, -6), 16 * 60 + index * 5, ZONE);
    for (const [number, part] of Object.keys(PARTS).entries()) {
      for (const line of linesOf(part, lots, [6, 25], 20 + ((number * 13 + index * 7) % 60)))
        recorder.record('stock counted', FIRM, at, 'person-lead', { place: branch, part, ...line });
    }
  }
  for (const [index, { person }] of DEMO_DRIVERS.entries()) {
    const at = momentText(addDays(today, -1), 18 * 60 + 30 + index * 5, ZONE);
    for (const [number, part] of Object.keys(PARTS).entries()) {
      for (const line of linesOf(part, lots, [1, 4], (number * 5 + index * 3) % 18))
        recorder.record('stock counted', FIRM, at, person, { place: person, part, ...line });
    }
  }
}

/** Each branch waits for one order of which half came, and for one that is overdue. */
function orderParts(recorder: Recorder, today: Day): void {
  for (const [index, { branch }] of DEMO_BRANCHES.entries()) {
    const order = (
      part: string,
      count: number,
      ago: number,
      expectedIn: number,
      reference: string,
    ): string => {
      const id = `order-${branch}-${part}`;
      recorder.record('parts ordered', FIRM, momentText(addDays(today, -ago), 11 * 60, ZONE), 'person-lead', {
        order: id,
        place: branch,
        part,
        count,
        orderedOn: dayToText(addDays(today, -ago)),
        expectedOn: dayToText(addDays(today, expectedIn)),
        reference,
      });
      return id;
    };
    const half = order('base-monitor', 50, 9, 4, `INV-P${310 + index} (invented)`);
    recorder.record('stock received', FIRM, momentText(addDays(today, -3), 10 * 60, ZONE), 'person-lead', {
      place: branch,
      part: 'base-monitor',
      count: 25,
      lot: null,
      usableUntil: null,
      order: half,
    });
    order('housing-two-part', 10, 30, -2, '');
  }
}

interface StockOfPart {
  readonly count: number;
  readonly lot: string | null;
  readonly usableUntil: string | null;
}

function linesOf(
  part: string,
  lots: readonly { readonly lot: string; readonly usableUntil: Day }[],
  ofEachLot: readonly number[],
  plain: number,
): readonly StockOfPart[] {
  if (!BAIT_PARTS.includes(part)) return [{ count: plain, lot: null, usableUntil: null }];
  return lots.map(({ lot, usableUntil }, index) => ({
    count: ofEachLot[index] ?? 0,
    lot,
    usableUntil: dayToText(usableUntil),
  }));
}

function takeRequests(recorder: Recorder, today: Day, properties: number): void {
  const property = (wanted: number): string =>
    `property-${String(Math.min(wanted, properties)).padStart(3, '0')}`;
  const at = (minutes: number): string => momentText(addDays(today, -1), minutes, ZONE);
  recorder.record('visit asked', { property: property(2), station: null }, at(9 * 60), 'person-lead', {
    ask: 'ask-1',
    earliest: dayToText(today),
    latest: dayToText(workdayFrom(addDays(today, 4))),
    minutes: 45,
    why: 'Winged insects at the back door; the customer is worried.',
    urgent: true,
  });
  recorder.record('visit asked', { property: property(9), station: null }, at(9 * 60 + 20), 'person-lead', {
    ask: 'ask-2',
    earliest: dayToText(addDays(today, 3)),
    latest: dayToText(addDays(today, 40)),
    minutes: 30,
    why: 'Show the new owners the ring.',
    urgent: false,
  });
  recorder.record('visit promised', { property: property(5), station: null }, at(10 * 60), 'person-lead', {
    day: dayToText(workdayFrom(addDays(today, 6))),
    from: '09:00',
    to: '12:00',
    how: 'by telephone',
  });
  recorder.record('technician away', FIRM, at(11 * 60), 'person-lead', {
    person: 'person-ferry',
    from: dayToText(addDays(today, 5)),
    to: dayToText(addDays(today, 9)),
    why: 'leave',
  });
  recorder.record('branch closed', FIRM, at(11 * 60 + 10), 'person-lead', {
    branch: 'branch-upland',
    from: dayToText(workdayFrom(addDays(today, 12))),
    to: dayToText(workdayFrom(addDays(today, 12))),
    why: 'Founders’ day (invented)',
  });
}

/** The day itself, or the Monday after a weekend. */
function workdayFrom(day: Day): Day {
  let found = day;
  while (weekdayOf(found) > 5) found = addDays(found, 1);
  return found;
}
