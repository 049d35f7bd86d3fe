import { clockToText } from '../facts/clock.ts';
import type { AnyFact, Application, FactBodies, FactKind, FittedInsert } from '../facts/fact.ts';
import { uuidV7 } from '../facts/uuid.ts';
import type { LabelProfile } from '../profile/labelProfile.ts';
import type { Steps } from '../rules/steps.ts';
import { workDone } from '../rules/workDone.ts';
import { type Day, dayToText } from '../units/index.ts';
import type { Look, Story } from './story.ts';

export const STORY_STATION = 'station-1';
const PROPERTY = 'property-1';
const STRUCTURE = 'structure-1';
const NOON_MS = 12 * 3_600_000;

/** The facts that begin a story: an invented property with one building and one station. */
export function installFacts(story: Story): readonly AnyFact[] {
  const { installedOn: day } = story;
  const inserts = installInserts(story);
  return [
    factOf(0, day, 'property added', null, {
      name: 'Invented property',
      branch: 'branch-1',
      address: { street: '1 Invented Street', town: 'Inventedtown', state: 'FL', postcode: '00000' },
      customer: { name: 'Invented customer', email: null, phone: null },
      timeZone: 'America/New_York',
      profile: story.profile.id,
      agreement: null,
      accessNotes: '',
      hazards: '',
      position: null,
    }),
    factOf(1, day, 'structure added', null, {
      structure: STRUCTURE,
      name: 'House',
      foundation: 'slab',
      outline: null,
    }),
    factOf(2, day, 'station installed', STORY_STATION, {
      structure: STRUCTURE,
      number: 1,
      tag: null,
      model: story.model.id,
      position: null,
      auxiliary: story.auxiliary,
      visit: null,
      inserts,
      application: applicationOf(
        story.profile,
        inserts.filter(({ insert }) => insert === 'bait').length * story.profile.baitGramsPerInsert.value,
      ),
    }),
  ];
}

/** A new station holds a monitor in every slot that takes one, and bait in the slots of a model without monitors. */
function installInserts({ model }: Story): readonly FittedInsert[] {
  const monitors = model.slots.filter((slot) => slot.holds.includes('monitor'));
  return monitors.length > 0
    ? monitors.map((slot): FittedInsert => ({ slot: slot.id, insert: 'monitor' }))
    : model.slots.map((slot): FittedInsert => ({ slot: slot.id, insert: 'bait' }));
}

/** What is recorded when the steps of a look were followed. `count` numbers the story's facts and must go up. */
export function lookFact(story: Story, look: Look, steps: Steps, count: number): AnyFact {
  const work = workDone(steps);
  const visit = `visit-${dayToText(look.day)}`;
  return factOf(count, look.day, 'station seen', STORY_STATION, {
    visit,
    task: look.task,
    finding: look.finding,
    work,
    application: applicationOf(story.profile, steps.baitGrams),
    note: '',
    photos: [],
  });
}

function applicationOf(profile: LabelProfile, grams: number): Application | null {
  if (grams === 0) return null;
  return {
    productName: profile.product.name,
    epaRegistrationNumber: profile.product.epaRegistrationNumber,
    grams,
    location: 'station 1',
    areaTreated: '1 station',
    site: 'house',
    applicatorName: 'Invented applicator',
    certificationNumber: 'INVENTED-1',
    appliedUnderSupervisionBy: null,
  };
}

function factOf<K extends FactKind>(
  count: number,
  day: Day,
  kind: K,
  station: string | null,
  body: FactBodies[K],
): AnyFact {
  const ms = day * 86_400_000 + NOON_MS + count * 1000;
  const random = new Uint8Array(10);
  random[9] = count % 256;
  return {
    id: uuidV7(ms, random),
    firm: 'firm-1',
    property: PROPERTY,
    station,
    by: 'technician-1',
    device: 'device-1',
    seq: count + 1,
    at: `${dayToText(day)}T${clockTime(count)}Z`,
    clock: clockToText({ ms, count: 0 }),
    kind,
    body,
  };
}

function clockTime(count: number): string {
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${two(12 + Math.floor(count / 3600))}:${two(Math.floor(count / 60) % 60)}:${two(count % 60)}`;
}
