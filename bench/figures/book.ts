/**
 * `node bench/figures/book.ts [properties]`: the whole book of the demo firm on one page, and what its parts cost. No goal was set.
 */
import { generateDemo } from '@sillwatch/demo';
import {
  bookFigures,
  estimateServiceMinutes,
  expectedVisits,
  fitHitRisk,
  groupByProperty,
  learnWear,
  loadFor,
  readSubjects,
} from '@sillwatch/rounds';
import { DEMO_PROFILE, STATION_MODELS } from '@sillwatch/trade';
import { addDays, getDay } from '@sillwatch/trade/units';

const properties = Number(process.argv[2] ?? 300);
const asOf = getDay('2026-11-25');
const { facts } = generateDemo({ seed: 5, today: asOf, properties });
const byProperty = groupByProperty(facts);
const profiles = { [DEMO_PROFILE.id]: DEMO_PROFILE };
const models = Object.fromEntries(STATION_MODELS.map((model) => [model.id, model]));

function timed<T>(what: string, work: () => T): T {
  const started = performance.now();
  const result = work();
  console.log(`${what}: ${(performance.now() - started).toFixed(0)} ms`);
  return result;
}

console.log(`${properties} properties, ${facts.length} facts`);
const { subjects, withoutProfile } = timed('facts read and folded', () => readSubjects(byProperty, profiles));
const minutes = timed('service minutes', () =>
  estimateServiceMinutes(subjects.map(({ history }) => history)),
);
const states = subjects.map(({ state }) => state);
const visits = timed('visits of two months', () => expectedVisits(states, profiles, asOf, addDays(asOf, 60)));
const book = timed('the book', () => bookFigures({ subjects, withoutProfile, minutes, asOf }));
const risk = timed('hit risk fitted', () => fitHitRisk(subjects, asOf));
const wear = timed('wear learned', () => learnWear(subjects, asOf));
const question = {
  states: new Map(states.map((state) => [state.property, state])),
  profiles,
  models,
  risk,
  wear,
};
const load = timed(`load of ${visits.length} visits`, () =>
  loadFor({ ...question, visits }, { chance: 0.05 }),
);
timed('load of a round of 8 visits', () =>
  loadFor({ ...question, visits: visits.slice(0, 8) }, { chance: 0.05 }),
);
if (book.properties !== properties || load.leftOut.length > 0) throw new Error('something was left out');
