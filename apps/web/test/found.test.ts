import {
  type AnyFact,
  checkBody,
  checkFact,
  DEMO_PROFILE,
  type StationSeenBody,
  TWO_PART,
} from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import { historyOf } from '../src/desk/property/history.ts';
import {
  changesOf,
  type Found,
  type FoundSource,
  firstFound,
  foundCorrectionOf,
  foundOptions,
  legalOf,
  missingLegal,
  needsRecord,
  openedWording,
  slotsForBait,
} from '../src/desk/timeline/found.ts';
import { listChanges } from '../src/shared/changes.ts';
import { fromApplication, LEGAL } from '../src/shared/legal.ts';
import { findBefore } from '../src/shared/looks.ts';
import { daysIn } from '../src/words/days.ts';
import { desk as enDesk } from '../src/words/en.desk.ts';
import { en } from '../src/words/en.ts';
import { desk as esDesk } from '../src/words/es.desk.ts';
import { words as es } from '../src/words/es.ts';
import { FEEDING, servedStation, servedYard } from './field/support/servedYard.ts';

const NOW = Date.UTC(2026, 10, 25, 15);
const YARD = servedYard('firm', 'office', NOW);
const w = { ...en, desk: enDesk };
const days = daysIn('en-US');

const HIT = YARD.find(
  ({ kind, station, body }) =>
    kind === 'station seen' &&
    station === servedStation(FEEDING) &&
    (body as StationSeenBody).application !== null,
);
const PROPERTY = {
  structures: [],
  body: null,
};

function sourceOf(facts: readonly AnyFact[], id: string): FoundSource {
  const entry = historyOf(facts).find(({ fact }) => fact.id === id);
  const before = findBefore(facts, id);
  if (entry === undefined || before === undefined) throw new Error('no such look');
  const { look, state } = before;
  const opened = openedWording(entry, look.body);
  return {
    entry,
    body: look.body,
    opened,
    state,
    model: TWO_PART,
    profile: DEMO_PROFILE,
    property: PROPERTY,
  };
}

/** The facts with the correction that this form asks for. */
function corrected(
  facts: readonly AnyFact[],
  id: string,
  change: (found: Found) => Found,
): readonly AnyFact[] {
  const source = sourceOf(facts, id);
  const result = foundCorrectionOf(source, change(firstFound(source)), 'read again', w, days);
  if (!result.ok) throw new Error(result.fault);
  const fact: AnyFact = {
    ...source.entry.fact,
    id: id.slice(0, -4) + String(1000 + facts.length),
    device: 'desk',
    seq: facts.length,
    at: '2026-11-25T12:00:00+00:00',
    clock: `${String(NOW + facts.length).padStart(15, '0')}.00000`,
    kind: 'fact corrected',
    body: result.body,
  };
  expect(checkFact(fact)).toEqual([]);
  expect(checkBody('station seen', result.body.body)).toEqual([]);
  return [...facts, fact];
}
const answered = (part: Partial<Found['answers']>) => (found: Found) => ({
  ...found,
  answers: { ...found.answers, ...part },
});

const id = HIT?.id ?? '';

describe('a look put right from the desk', () => {
  it('starts as it was recorded, and asks only what the station could hold then, and what was recorded', () => {
    const source = sourceOf(YARD, id);
    const found = firstFound(source);
    expect(found.answers).toMatchObject({
      reach: 'opened',
      termites: 'live on monitor',
      baitLeft: 'no bait',
    });
    expect(found.baitSlots).toEqual(['top']);
    expect(foundOptions(source).termites).toEqual(['none', 'signs only', 'live on monitor']);
    expect(slotsForBait(source)).toEqual(['top']);
    expect(foundCorrectionOf(source, found, 'why', w, days)).toEqual({ ok: false, fault: 'needFound' });
    expect(changesOf(source, found, w, days)).toEqual([]);
  });

  it('keeps the record of its bait complete: each field that is empty is named, and nothing is recorded', () => {
    const source = sourceOf(YARD, id);
    const { application } = source.body;
    if (application === null) throw new Error('no application');
    for (const name of LEGAL) {
      const legal = { ...fromApplication(application), [name]: ' ' };
      const found = { ...firstFound(source), legal };
      expect(missingLegal(source, found, w)).toEqual([w.record[name]]);
      expect(foundCorrectionOf(source, found, 'why', w, days)).toEqual({ ok: false, fault: 'needLegal' });
    }
  });

  it('shows another amount beside the old one, and says all else again', () => {
    const source = sourceOf(YARD, id);
    const facts = corrected(YARD, id, (found) => ({
      ...found,
      legal: { ...legalOf(source, found, w), grams: '90' },
    }));
    const entry = sourceOf(facts, id).entry;
    const [correction] = entry.corrections;
    const before = (correction?.before.body ?? null) as StationSeenBody | null;
    expect(before).toEqual(source.body);
    expect(entry.body).toEqual({ ...source.body, application: { ...source.body.application, grams: 90 } });
    const after = { body: entry.body, at: entry.at };
    expect(listChanges('station seen', { body: before, at: entry.at }, after, w, days)).toEqual([
      { label: 'Amount of product, grams', was: String(before?.application?.grams), now: '90' },
    ]);
  });

  it('asks for a record of bait that was not recorded, and guesses nobody', () => {
    const quiet = YARD.find(
      ({ kind, body }) => kind === 'station seen' && (body as StationSeenBody).application === null,
    );
    const source = sourceOf(YARD, quiet?.id ?? '');
    const found = { ...firstFound(source), baitSlots: ['top'] };
    expect(needsRecord(source, found)).toBe(true);
    expect(legalOf(source, found, w)).toMatchObject({
      product: DEMO_PROFILE.product.name,
      grams: String(DEMO_PROFILE.baitGramsPerInsert.value),
      applicator: '',
      certificate: '',
      supervised: '',
    });
    expect(missingLegal(source, found, w)).toEqual(['Certified applicator', 'Certification number']);
  });

  it('of a station that nobody opened brings work and bait back when it turns out to have been opened', () => {
    const closed = corrected(YARD, id, answered({ reach: 'blocked', why: 'a car stands on it' }));
    const unopened = sourceOf(closed, id);
    expect(unopened.body.application).toBeNull();
    expect(unopened.body.work.fitted).toEqual([]);
    const again = sourceOf(corrected(closed, id, answered({ reach: 'opened' })), id);
    expect(again.body).toEqual(HIT?.body);
    expect(again.entry.corrections).toHaveLength(2);
  });

  it('asks what is still open', () => {
    const source = sourceOf(YARD, id);
    const fault = (change: (found: Found) => Found, why = 'why') => {
      const result = foundCorrectionOf(source, change(firstFound(source)), why, w, days);
      return result.ok ? undefined : result.fault;
    };
    expect(fault(answered({ reach: 'not found', why: ' ' }))).toBe('needWhyNot');
    expect(fault(answered({ termites: null }))).toBe('needTermites');
    expect(fault(answered({ baitLeft: null }))).toBe('needBaitLeft');
    expect(fault(answered({ termites: 'none' }), ' ')).toBe('needWhy');
  });

  it('reads in both languages, each line under a label of its own', () => {
    const source = sourceOf(YARD, id);
    const found = answered({ termites: 'none', housing: 'loose' })({ ...firstFound(source), baitSlots: [] });
    for (const words of [w, { ...es, desk: esDesk }]) {
      const changes = changesOf(source, found, words, daysIn(words.locale));
      const labels = changes.map(({ label }) => label);
      // Termites, housing, bait, parts, and the eight or nine lines of the record that goes.
      expect(labels.length).toBeGreaterThanOrEqual(12);
      expect(new Set(labels).size).toBe(labels.length);
      for (const { was, now } of changes) expect(`${was}${now}`).not.toMatch(/undefined|NaN|null/);
    }
  });
});
