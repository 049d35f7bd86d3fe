import { type AnyFact, checkBody, checkFact, DEMO_PROFILE } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import { historyOf } from '../src/desk/property/history.ts';
import {
  lackingIn,
  recordChangesOf,
  recordCorrectionOf,
  recordedWith,
} from '../src/desk/timeline/useRecord.ts';
import type { Legal } from '../src/shared/legal.ts';
import { daysIn } from '../src/words/days.ts';
import { desk } from '../src/words/en.desk.ts';
import { en } from '../src/words/en.ts';

const w = { ...en, desk };
const days = daysIn('en-US');
const APPLICATION = {
  productName: DEMO_PROFILE.product.name,
  epaRegistrationNumber: '99999-999',
  grams: 150,
  location: 'Station 3, north wall',
  areaTreated: '1 station',
  site: 'Structure',
  applicatorName: 'Invented Applicator',
  certificationNumber: 'INV-9',
  appliedUnderSupervisionBy: null,
};
const SET = {
  structure: 'house',
  number: 3,
  tag: null,
  model: 'always-baited',
  position: null,
  auxiliary: false,
  visit: null,
  inserts: [{ slot: 'only', insert: 'bait' }],
  application: APPLICATION,
};

function fact(kind: string, body: unknown, seq = 1): AnyFact {
  return {
    id: `01900000-0000-7000-8000-00000000000${seq}`,
    firm: 'f',
    property: 'p',
    station: 's3',
    by: 'a',
    device: 'd',
    seq,
    at: '2026-03-04T09:30:00-05:00',
    clock: `00177263460000${seq}.00000`,
    kind,
    body,
  };
}

function entryOf(facts: readonly AnyFact[]) {
  const [entry] = historyOf(facts);
  if (entry === undefined) throw new Error('no entry');
  return entry;
}

describe('the use record of bait that a station was set with', () => {
  const installed = fact('station installed', SET);
  const entry = entryOf([installed]);
  const recorded = recordedWith(entry);
  if (recorded === undefined) throw new Error('it has a use record');
  const correct = (change: Partial<Legal>, why = 'weighed again') =>
    recordCorrectionOf(entry, { ...recorded, ...change }, why, w, days);

  it('is there where bait went in with a record of its own, and nowhere else', () => {
    expect(recorded.grams).toBe('150');
    const replaced = {
      model: 'always-baited',
      why: 'crushed',
      inserts: SET.inserts,
      application: APPLICATION,
    };
    expect(recordedWith(entryOf([fact('station replaced', replaced)]))?.certificate).toBe('INV-9');
    const elsewhere = { ...SET, application: null, recordKeptElsewhere: 'the old book' };
    expect(recordedWith(entryOf([fact('station installed', elsewhere)]))).toBeUndefined();
    expect(recordedWith(entryOf([fact('note added', { text: 'x' })]))).toBeUndefined();
    const withdrawn = fact(
      'fact corrected',
      { corrects: installed.id, why: 'slip', body: null, at: null },
      2,
    );
    expect(recordedWith(entryOf([installed, withdrawn]))).toBeUndefined();
  });

  it('is said anew with all else as it stands, and takes a decimal comma', () => {
    const result = correct({ grams: '142,5', applicator: 'Ana (invented)' });
    if (!result.ok) throw new Error(result.fault);
    expect(result.body).toEqual({
      corrects: installed.id,
      why: 'weighed again',
      body: { ...SET, application: { ...APPLICATION, grams: 142.5, applicatorName: 'Ana (invented)' } },
      at: null,
    });
    expect(checkBody('station installed', result.body.body)).toEqual([]);
    const said = fact('fact corrected', result.body, 2);
    expect(checkFact(said)).toEqual([]);
    const after = entryOf([installed, said]);
    expect(recordedWith(after)?.grams).toBe('142.5');
    expect(after.corrections[0]?.why).toBe('weighed again');
  });

  it('shows old beside new, and asks for a reason, a difference and what the law asks for', () => {
    expect(recordChangesOf(entry, { ...recorded, grams: '142,5' }, w, days)).toEqual([
      { label: w.record.grams, was: '150', now: '142.5' },
    ]);
    expect(correct({ grams: '142' }, ' ')).toEqual({ ok: false, fault: 'needWhy' });
    expect(correct({})).toEqual({ ok: false, fault: 'needRecord' });
    expect(correct({ certificate: ' ', registration: 'none' })).toEqual({ ok: false, fault: 'needLegal' });
    expect(lackingIn({ ...recorded, certificate: ' ', registration: 'none' }, w)).toEqual([
      w.record.registration,
      w.record.certificate,
    ]);
    expect(correct({ grams: '1,250' })).toEqual({ ok: false, fault: 'needLegal' });
  });
});
