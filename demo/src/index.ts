import { type AnyFact, addDays, addMonths, type Day, DEMO_PROFILE, STATION_MODELS } from '@sillwatch/trade';
import { createSurvey, recordOffice } from './office.ts';
import { installProperty } from './properties.ts';
import { createChance } from './random.ts';
import { createRecorder, momentText } from './recorder.ts';
import { DEMO_BRANCHES, DEMO_FIRM, DEMO_PEOPLE, type DemoPerson } from './scenario.ts';
import { makeVisits } from './visits.ts';

export { DEMO_BRANCHES, DEMO_FIRM, DEMO_PEOPLE, type DemoPerson } from './scenario.ts';

export interface DemoOptions {
  readonly seed: number;
  /** The firm's history ends the day before. */
  readonly today: Day;
  /** default 60 */
  readonly properties?: number;
}

export interface DemoFirm {
  readonly firm: { readonly id: string; readonly name: string };
  readonly people: readonly DemoPerson[];
  /** In the order of recording. */
  readonly facts: readonly AnyFact[];
}

/**
 * An invented firm with three years of station records that follow the rules of `@sillwatch/trade`.
 * The same seed and day give the same facts, byte for byte.
 */
export function generateDemo({ seed, today, properties = 60 }: DemoOptions): DemoFirm {
  const chance = createChance(seed);
  const recorder = createRecorder(chance, 'device-office');
  const opening = addMonths(today, -37);
  const firmSubject = { property: null, station: null };
  const openedAt = momentText(opening, 8 * 60, 'America/New_York');
  recorder.record('profile set', firmSubject, openedAt, 'person-owner', DEMO_PROFILE);
  for (const model of STATION_MODELS)
    recorder.record('model set', firmSubject, openedAt, 'person-owner', model);
  for (const branch of DEMO_BRANCHES)
    recorder.record('branch added', firmSubject, openedAt, 'person-owner', branch);

  const facts: AnyFact[] = [...recorder.facts];
  const survey = createSurvey(seed);
  for (let index = 0; index < properties; index += 1) {
    // A device of its own for each property: its clock then runs with that property's history.
    const phone = createRecorder(chance, `device-${index + 1}`);
    const place = installProperty(chance, phone, index, installationDay(index, properties, opening, today));
    makeVisits(chance, phone, place, { fallsBehind: index % 13 === 6 }, today);
    if (index % 4 !== 3) survey.draw(place, phone.facts);
    facts.push(...phone.facts);
  }
  facts.push(...survey.facts, ...recordOffice(seed, today, properties));
  facts.sort(compareByClock);
  return { firm: DEMO_FIRM, people: DEMO_PEOPLE, facts };
}

function compareByClock(a: AnyFact, b: AnyFact): number {
  if (a.clock !== b.clock) return a.clock < b.clock ? -1 : 1;
  if (a.device !== b.device) return a.device < b.device ? -1 : 1;
  return a.seq - b.seq;
}

/** Two thirds stand since the first half year, the rest came in step by step; the last is three weeks old. */
function installationDay(index: number, properties: number, opening: Day, today: Day): Day {
  const early = Math.ceil((properties * 2) / 3);
  if (index < early) return addDays(opening, 1 + Math.floor((index * 180) / early));
  const rest = Math.max(1, properties - early - 1);
  const from = opening + 181;
  const to = today - 21;
  return addDays(opening, 181 + Math.floor(((index - early) * (to - from)) / rest));
}
