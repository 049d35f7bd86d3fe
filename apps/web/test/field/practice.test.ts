import {
  assessClearance,
  checkFact,
  DEMO_PROFILE,
  dueWork,
  foldProperty,
  getDay,
  stepsFor,
  TWO_PART,
  workDone,
} from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import { buildYard, PRACTICE_ME, PRACTICE_PROPERTY, stationOf } from '../../src/field/practice/buildYard.ts';
import { comparePractice } from '../../src/field/practice/compare.ts';
import { DECISIONS, decisionOf, readDecided } from '../../src/field/practice/decision.ts';
import { SCENES, type SceneKey } from '../../src/field/practice/scenes.ts';
import type { FieldProperty } from '../../src/field/store/port.ts';

const TODAY = getDay('2026-11-25');
const MODELS = { [TWO_PART.id]: TWO_PART };
const yard = buildYard(TODAY, 'America/New_York', { yard: 'Yard', house: 'House', why: 'under new paving' });

/** The yard, and besides what a trainee recorded. */
function after(records: readonly { readonly scene: SceneKey; readonly body: object }[]): FieldProperty {
  const [model] = yard.facts.filter(({ kind }) => kind === 'station seen');
  if (model === undefined) throw new Error('a practice yard without a look');
  const facts = [
    ...yard.facts,
    ...records.map(({ scene, body }, index) => ({
      ...model,
      id: `00000000-0000-7000-8000-${String(index).padStart(12, '0')}`,
      seq: 10_000 + index,
      station: stationOf(scene),
      at: `2026-11-25T15:${String(index).padStart(2, '0')}:00+00:00`,
      clock: `${String(Date.UTC(2026, 10, 25, 15, index)).padStart(15, '0')}.00000`,
      kind: 'station seen',
      body,
    })),
  ];
  expect(facts.flatMap((fact) => checkFact(fact))).toEqual([]);
  const folded = foldProperty(facts);
  return {
    state: { ...folded, stations: folded.stations.map((one) => assessClearance(one, DEMO_PROFILE)) },
    profile: DEMO_PROFILE,
    due: dueWork(folded.stations, DEMO_PROFILE, TODAY),
    today: TODAY,
    facts,
    unsent: new Set(),
    fetchedAt: null,
  };
}

/** As a trainee who sees what there is and does what the rules ask. */
function asRulesAsk(scene: SceneKey) {
  const start = after([]);
  const state = start.state.stations.find(({ station }) => station === stationOf(scene));
  const truth = SCENES.find(({ key }) => key === scene)?.truth;
  if (state === undefined || truth === undefined) throw new Error(`no scene ${scene}`);
  const steps = stepsFor({
    state,
    model: TWO_PART,
    profile: DEMO_PROFILE,
    task: 'yearly service',
    finding: truth,
  });
  return {
    scene,
    body: {
      visit: 'today',
      task: 'yearly service',
      finding: truth,
      work: workDone(steps),
      application:
        steps.baitGrams === 0
          ? null
          : {
              productName: 'Demo Bait (invented)',
              epaRegistrationNumber: '99999-999',
              grams: steps.baitGrams,
              location: 'yard',
              areaTreated: '1 station',
              site: 'house',
              applicatorName: PRACTICE_ME.name,
              certificationNumber: 'PRACTICE-0',
              appliedUnderSupervisionBy: null,
            },
      note: '',
      photos: [],
    },
  };
}

const compare = (property: FieldProperty) => comparePractice(property, 'today', MODELS, yard.sceneByStation);

/** Outside check: what each scene asks for in the rules of the trade as issue 5 and the product's words have them. */
const WANTED: Readonly<Record<SceneKey, string>> = {
  quiet: 'renew and clean out',
  mud: 'renew and clean out',
  hit: 'put bait in',
  feeding: 'look only',
  feedingLow: 'add bait',
  ended: 'renew and clean out',
  clear: 'take bait out',
  lost: 'tell the office',
  flooded: 'renew and clean out',
  ants: 'renew and clean out',
  swollen: 'new housing',
  broken: 'new housing',
};

describe('the decision before the rules speak', () => {
  const askedAt = (scene: SceneKey, task: 'check' | 'yearly service', of = scene) => {
    const state = after([]).state.stations.find(({ station }) => station === stationOf(scene));
    const finding = SCENES.find(({ key }) => key === of)?.truth;
    if (state === undefined || finding === undefined) throw new Error(`no scene ${scene}`);
    return stepsFor({ state, model: TWO_PART, profile: DEMO_PROFILE, task, finding });
  };

  it.each(SCENES.map(({ key }) => key))('wants at "%s" what the trade does there', (scene) => {
    const { decision, by } = decisionOf(askedAt(scene, 'yearly service'));
    expect(decision).toBe(WANTED[scene]);
    expect(by?.reason.length).toBeGreaterThan(20);
  });

  it('never wants anything pulled or cleaned where termites are feeding, whatever the station was like before', () => {
    for (const { key } of SCENES)
      for (const of of ['feeding', 'feedingLow'] as const)
        for (const task of ['check', 'yearly service'] as const) {
          const asked = askedAt(key, task, of);
          if (asked.countsAsFeeding) expect(['look only', 'add bait']).toContain(decisionOf(asked).decision);
        }
  });

  it('wants everything put back at a check that finds nothing', () => {
    expect(decisionOf(askedAt('quiet', 'check')).decision).toBe('put back');
  });

  it('reads what was kept, and nothing else', () => {
    for (const decided of DECISIONS)
      expect(readDecided({ decided, wanted: 'look only' })).toEqual({ decided, wanted: 'look only' });
    for (const spoilt of [undefined, null, 'look only', {}, { decided: 'guess', wanted: 'look only' }])
      expect(readDecided(spoilt)).toBeUndefined();
  });
});

describe('the practice yard', () => {
  it('is made of facts that a ledger would take, the same for the same day', () => {
    expect([...yard.firmFacts, ...yard.facts].flatMap((fact) => checkFact(fact))).toEqual([]);
    expect(
      buildYard(TODAY, 'America/New_York', { yard: 'Yard', house: 'House', why: 'under new paving' }),
    ).toEqual(yard);
    expect(new Set(yard.facts.map(({ property }) => property))).toEqual(new Set([PRACTICE_PROPERTY]));
  });

  it('has a station in every phase, one missed, and every yearly service open and none late', () => {
    const { state, due } = after([]);
    expect(new Set(state.stations.map(({ phase }) => phase))).toEqual(
      new Set(['monitoring', 'feeding', 'baited']),
    );
    expect(state.stations.filter(({ missesInARow }) => missesInARow > 0)).toHaveLength(1);
    expect(state.stations.some(({ disturbedWhileFeeding }) => disturbedWhileFeeding)).toBe(false);
    const yearly = (due?.items ?? []).filter(({ work }) => work === 'yearly service');
    expect(yearly).toHaveLength(SCENES.length);
    for (const { earliest, latest } of yearly) {
      expect(earliest).toBeLessThanOrEqual(TODAY);
      expect(latest).toBeGreaterThanOrEqual(TODAY);
    }
  });

  it('finds nothing to correct in a trainee who sees what there is and does what the rules ask', () => {
    const compared = compare(after(SCENES.map(({ key }) => asRulesAsk(key))));
    expect(compared).toHaveLength(SCENES.length);
    expect(compared.filter(({ isRight }) => !isRight)).toEqual([]);
    for (const { asked } of compared)
      for (const { reason } of asked) expect(reason.length).toBeGreaterThan(20);
  });

  it('says so when the base monitor was lifted under feeding termites, and why not', () => {
    const right = asRulesAsk('feeding');
    const work = { ...right.body.work, baseMonitorLifted: true, cleanedOut: true, yearlyServiceDone: true };
    const [one] = compare(after([{ scene: 'feeding', body: { ...right.body, work } }]));
    expect(one).toMatchObject({ isRight: false, differs: [] });
    expect(one?.besides).toEqual([
      'lift the base monitor, every piece of it',
      'clear debris from the housing',
    ]);
    expect(one?.fired.find(({ table }) => table === 'disturb')?.reads).toMatch(/never/i);
  });

  it('says what was seen wrongly and what was left out', () => {
    const right = asRulesAsk('flooded');
    const finding = { ...right.body.finding, monitor: 'sound' };
    const work = { ...right.body.work, fitted: [], partsUsed: {} };
    const [one] = compare(after([{ scene: 'flooded', body: { ...right.body, finding, work } }]));
    expect(one?.differs).toEqual(['monitor']);
    expect(one?.missing).toEqual(['fit a new base monitor', 'fit a new top monitor']);
    const [lost] = compare(after([{ scene: 'lost', body: { ...asRulesAsk('quiet').body } }]));
    expect(lost?.differs).toEqual(['reach']);
  });

  it('counts the last record that stands', () => {
    const wrong = asRulesAsk('quiet');
    const twice = [
      { ...wrong, body: { ...wrong.body, finding: { ...wrong.body.finding, housing: 'loose' } } },
      asRulesAsk('quiet'),
    ];
    // A second look on the same day finds the service done, so only what was seen can be compared.
    expect(compare(after(twice)).map(({ differs }) => differs)).toEqual([[]]);
  });
});
