import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AnyFact,
  assessClearance,
  DEMO_PROFILE,
  dueWork,
  foldProperty,
  type StationState,
} from '../../src/index.ts';
import { dayToText, getDay } from '../../src/units/index.ts';
import { APPLICATION, BAIT_IN_TOP, createBook, opened } from './book.ts';

function onlyStation(facts: Iterable<AnyFact>): StationState {
  const [station, ...others] = foldProperty(facts).stations;
  if (station === undefined || others.length > 0) throw new Error('expected one station');
  return station;
}

/** A history with a hit, feeding, an end of feeding, a miss, a correction and a withdrawal. */
function eventfulFacts(): AnyFact[] {
  const book = createBook();
  book.install('s1', '2024-01-10T09:00:00-05:00');
  book.install('s2', '2024-01-10T09:05:00-05:00', 2);
  book.see('s1', '2024-04-08T09:00:00-04:00', opened({ termites: 'live on monitor' }), BAIT_IN_TOP, {
    application: APPLICATION,
  });
  book.see('s2', '2024-04-08T09:02:00-04:00', { reach: 'blocked', why: 'pallet' });
  const seen = book.see(
    's1',
    '2024-05-08T09:00:00-04:00',
    opened({ termites: 'live on bait', baitLeft: 'half' }),
  );
  book.see('s2', '2024-05-08T09:03:00-04:00', opened({ housing: 'loose' }));
  book.see(
    's1',
    '2025-02-03T09:00:00-05:00',
    opened({ termites: 'live on bait', baitLeft: 'a quarter' }),
    {},
    { task: 'yearly service' },
  );
  book.see('s1', '2025-03-10T09:00:00-04:00', opened({ baitLeft: 'half' }));
  const wrong = book.see('s2', '2025-03-10T09:04:00-04:00', opened({ termites: 'live on monitor' }));
  book.add('fact corrected', null, '2025-03-11T08:00:00-04:00', {
    corrects: wrong.id,
    why: 'wrong station',
    body: null,
    at: null,
  });
  book.add('fact corrected', null, '2025-03-12T08:00:00-04:00', {
    corrects: seen.id,
    why: 'misread',
    body: { ...Object(seen.body), note: 'bait dry' },
    at: null,
  });
  book.add('site drawn', null, '2024-01-10T10:00:00-05:00', SITE);
  book.add('site drawn', null, '2025-01-10T10:00:00-05:00', { ...SITE, parking: [4, -8] });
  book.add('visit asked', null, '2025-03-20T10:00:00-04:00', ASK);
  book.add('visit asked', null, '2025-03-21T10:00:00-04:00', { ...ASK, ask: 'ask-2', latest: '2025-03-30' });
  book.add('visit promised', null, '2025-03-21T10:01:00-04:00', {
    day: '2025-03-28',
    from: '09:00',
    to: '11:00',
    how: 'by telephone',
  });
  book.add('visit closed', null, '2025-03-22T10:00:00-04:00', {
    visit: 'visit-2025-03-22',
    task: 'check',
    technician: 'person-1',
    licenceNumber: 'ZZ-1',
    startedAt: '2025-03-22T09:30:00-04:00',
    note: '',
    asksSettled: ['ask-1'],
  });
  book.add('link made', null, '2025-03-22T10:01:00-04:00', LINK);
  book.add('link made', null, '2025-03-22T10:02:00-04:00', { ...LINK, link: 'link-2' });
  book.add('link withdrawn', null, '2025-03-22T10:03:00-04:00', { link: 'link-1' });
  book.add('paper sent', null, '2025-03-22T10:04:00-04:00', {
    paper: 'visit report',
    visit: 'visit-2025-03-22',
    to: 'somebody@demo.invalid',
    contentHash: null,
    outcome: 'sent',
    detail: '',
  });
  return book.facts;
}

const SITE = {
  hardSurfaces: [],
  keepOuts: [],
  plantings: [],
  concerns: [],
  fences: [],
  gates: [],
  parking: null,
} as const;
const ASK = {
  ask: 'ask-1',
  earliest: '2025-03-20',
  latest: '2025-04-03',
  minutes: 30,
  why: 'winged ants in the porch',
  urgent: true,
} as const;
const LINK = {
  link: 'link-1',
  secretHash: '0'.repeat(64),
  purpose: 'property page',
  person: null,
  expiresAt: null,
} as const;

const withReceipt = (fact: AnyFact, seq: number, receivedAt: string): AnyFact => ({
  ...fact,
  receipt: { seq, receivedAt },
});

describe('state is a function of the set of facts', () => {
  const facts = eventfulFacts();
  const bytes = JSON.stringify(foldProperty(facts));

  it('says what was drawn, asked, promised and handed out last', () => {
    const state = foldProperty(facts);
    expect(state.site?.parking).toEqual([4, -8]);
    expect(state.asks.map(({ ask }) => ask)).toEqual(['ask-2']);
    expect(state.promise?.day).toBe('2025-03-28');
    expect(state.links.map(({ link }) => link)).toEqual(['link-2']);
    expect(state.papersSent).toHaveLength(1);
    expect(state.passedOver).toEqual([]);
  });

  it('whatever the order of arrival, the duplicates and the split of deliveries', () => {
    fc.assert(
      fc.property(
        fc.shuffledSubarray(facts, { minLength: facts.length }),
        fc.array(fc.constantFrom(...facts), { maxLength: 12 }),
        fc.nat(facts.length),
        (shuffled, again, at) => {
          const delivered = [...shuffled.slice(at), ...again, ...shuffled.slice(0, at)];
          expect(JSON.stringify(foldProperty(delivered))).toBe(bytes);
        },
      ),
      { numRuns: 500 },
    );
  });

  it('two phones that were offline and come back together: either order of sync gives the same bytes', () => {
    const a = createBook('phone-a');
    const b = createBook('phone-b');
    a.install('s1', '2024-01-10T09:00:00-05:00');
    a.see('s1', '2024-04-10T09:00:00-04:00', opened());
    b.see('s1', '2024-04-10T09:00:00-04:00', opened({ termites: 'live on monitor' }));
    b.see('s1', '2024-07-10T09:00:00-04:00', opened({ monitor: 'rotten' }));
    const one = JSON.stringify(foldProperty([...a.facts, ...b.facts]));
    const other = JSON.stringify(foldProperty([...b.facts, ...a.facts]));
    expect(one).toBe(other);
    expect(onlyStation([...a.facts, ...b.facts]).firstHitOn).toBe(getDay('2024-04-10'));
  });

  it('also where hundreds of entries carry the same time, as imported visits do', () => {
    const book = createBook();
    for (let n = 1; n <= 60; n += 1) book.install(`s${n}`, '2024-01-10T12:00:00-05:00', n);
    for (let n = 1; n <= 60; n += 1) {
      book.see(
        `s${n}`,
        '2024-04-10T12:00:00-04:00',
        opened({ termites: n % 7 === 0 ? 'live on monitor' : 'none' }),
      );
      book.see(`s${n}`, '2024-04-10T12:00:00-04:00', opened());
    }
    const inOrder = JSON.stringify(foldProperty(book.facts));
    expect(inOrder).toContain('"termiteFreeLooks":1');
    fc.assert(
      fc.property(fc.shuffledSubarray(book.facts, { minLength: book.facts.length }), (shuffled) => {
        expect(JSON.stringify(foldProperty(shuffled))).toBe(inOrder);
      }),
    );
  });

  it('keeps and passes over what this build does not know', () => {
    const unknown: AnyFact = {
      ...(facts[0] ?? fail()),
      id: '01900000-0000-7000-8000-000000000000',
      kind: 'station sung to',
      body: { song: 1 },
    };
    const state = foldProperty([...facts, unknown]);
    expect(state.passedOver).toEqual([unknown]);
    expect(JSON.stringify({ ...state, passedOver: [] })).toBe(bytes);
  });

  it('passes over a fact about a station that is not here yet, until it comes', () => {
    const book = createBook();
    const seen = book.see('s9', '2024-04-10T09:00:00-04:00', opened());
    expect(foldProperty([seen]).passedOver).toEqual([seen]);
    const install = book.install('s9', '2024-01-10T09:00:00-05:00');
    expect(onlyStation([seen, install]).lastOpenedOn).toBe(getDay('2024-04-10'));
  });
});

describe('clocks', () => {
  it('a phone that is years ahead: the receipt counts, the fact stays as it is and is flagged', () => {
    const book = createBook();
    const install = withReceipt(book.install('s1', '2024-01-10T09:00:00-05:00'), 1, '2024-01-10T15:00:00Z');
    const wild = withReceipt(
      book.see('s1', '2031-04-10T09:00:00-04:00', opened({ termites: 'live on monitor' })),
      2,
      '2024-04-10T15:00:00Z',
    );
    const later = withReceipt(
      createBook('phone-b').see('s1', '2024-07-10T09:00:00-04:00', opened()),
      3,
      '2024-07-10T15:00:00Z',
    );
    const state = onlyStation([later, wild, install]);
    expect(state.lastOpenedOn).toBe(getDay('2024-07-10'));
    expect(state.firstHitOn).toBe(getDay('2024-04-10'));
    expect(state.doubtfulClocks).toEqual([wild.id]);
  });

  it('a phone whose clock was never set: kept, counted as written, flagged', () => {
    const book = createBook();
    book.install('s1', '1970-01-01T00:10:00Z');
    expect(onlyStation(book.facts).doubtfulClocks).toHaveLength(1);
  });

  it('counts on the local day of the device', () => {
    const book = createBook();
    book.install('s1', '2024-01-10T23:30:00-05:00');
    expect(dayToText(onlyStation(book.facts).installedOn)).toBe('2024-01-10');
  });
});

describe('corrections', () => {
  it('the last recorded wins wherever it arrives; a withdrawn correction brings back what it corrected', () => {
    const book = createBook();
    book.install('s1', '2024-01-10T09:00:00-05:00');
    const seen = book.see('s1', '2024-04-10T09:00:00-04:00', opened());
    const hit = book.add('fact corrected', null, '2024-04-11T09:00:00-04:00', {
      corrects: seen.id,
      why: 'forgot to tick',
      body: { ...Object(seen.body), finding: opened({ termites: 'live on monitor' }) },
      at: null,
    });
    expect(onlyStation(book.facts).phase).toBe('hit');
    book.add('fact corrected', null, '2024-04-12T09:00:00-04:00', {
      corrects: hit.id,
      why: 'was right before',
      body: null,
      at: null,
    });
    expect(onlyStation(book.facts).phase).toBe('monitoring');
  });

  it('moves an entry to the day on which it happened', () => {
    const book = createBook();
    book.install('s1', '2024-01-10T09:00:00-05:00');
    const seen = book.see('s1', '2024-06-10T09:00:00-04:00', opened());
    book.add('fact corrected', null, '2024-06-11T09:00:00-04:00', {
      corrects: seen.id,
      why: 'typed late',
      body: seen.body,
      at: '2024-04-10T09:00:00-04:00',
    });
    expect(onlyStation(book.facts).lastOpenedOn).toBe(getDay('2024-04-10'));
  });

  it('a ring of corrections and a body of the wrong shape do no harm', () => {
    const book = createBook();
    book.install('s1', '2024-01-10T09:00:00-05:00');
    const seen = book.see('s1', '2024-04-10T09:00:00-04:00', opened());
    book.add('fact corrected', null, '2024-04-11T09:00:00-04:00', {
      corrects: seen.id,
      why: 'x',
      body: { nonsense: true },
      at: null,
    });
    const [, , broken] = book.facts;
    book.add('fact corrected', null, '2024-04-12T09:00:00-04:00', {
      corrects: broken?.id ?? '',
      why: 'x',
      body: { corrects: broken?.id, why: 'ring', body: null, at: null },
      at: null,
    });
    expect(onlyStation(book.facts).lastOpenedOn).toBe(getDay('2024-04-10'));
  });
});

describe('phases of a station (common practice, no source)', () => {
  const book = createBook();
  book.install('s1', '2024-01-10T09:00:00-05:00');
  const stages: StationState[] = [];
  const stage = (): void => {
    stages.push(onlyStation(book.facts));
  };
  stage();
  book.see('s1', '2024-04-10T09:00:00-04:00', opened({ termites: 'live on monitor' }));
  stage();
  book.see('s1', '2024-04-17T09:00:00-04:00', opened({ termites: 'live on monitor' }), BAIT_IN_TOP, {
    application: APPLICATION,
  });
  stage();
  book.see('s1', '2024-05-17T09:00:00-04:00', opened({ termites: 'live on bait', baitLeft: 'half' }));
  stage();
  book.see(
    's1',
    '2025-02-17T09:00:00-05:00',
    opened({ termites: 'live on bait', baitLeft: 'half' }),
    {},
    { task: 'yearly service' },
  );
  stage();
  book.see('s1', '2025-03-20T09:00:00-04:00', opened({ baitLeft: 'half' }));
  stage();

  it('monitoring, hit, baited, feeding, feeding, baited', () => {
    expect(stages.map((state) => state.phase)).toEqual([
      'monitoring',
      'hit',
      'baited',
      'feeding',
      'feeding',
      'baited',
    ]);
  });

  it('carries a yearly service over from the day it was skipped until it is done', () => {
    expect(stages[4]?.carriedOverOn).toBe(getDay('2025-02-17'));
    expect(stages[5]?.carriedOverOn).toBe(getDay('2025-02-17'));
    book.see(
      's1',
      '2025-04-20T09:00:00-04:00',
      opened({ baitLeft: 'half' }),
      { yearlyServiceDone: true, baseMonitorLifted: true, cleanedOut: true },
      { task: 'yearly service' },
    );
    const after = onlyStation(book.facts);
    expect([after.carriedOverOn, after.lastYearlyOn]).toEqual([null, getDay('2025-04-20')]);
  });

  it('is clear after the run of looks that the profile asks for, on the last of them', () => {
    const runs = DEMO_PROFILE.clearAfterChecks.value;
    const more = createBook();
    more.install('s1', '2024-01-10T09:00:00-05:00');
    more.see('s1', '2024-04-10T09:00:00-04:00', opened({ termites: 'live on monitor' }));
    for (let look = 1; look <= runs; look += 1) {
      expect(assessClearance(onlyStation(more.facts), DEMO_PROFILE).clearedOn).toBeNull();
      more.see('s1', `2024-0${4 + look}-10T09:00:00-04:00`, opened());
    }
    const cleared = assessClearance(onlyStation(more.facts), DEMO_PROFILE);
    expect([cleared.clearedOn, cleared.openHitOn, cleared.phase]).toEqual([
      getDay(`2024-0${4 + runs}-10`),
      null,
      'monitoring',
    ]);
    expect(assessClearance(cleared, DEMO_PROFILE)).toEqual(cleared);
  });

  it('flags, and never refuses, a record that says a feeding station was disturbed', () => {
    const bad = createBook();
    bad.install('s1', '2024-01-10T09:00:00-05:00');
    bad.see('s1', '2024-04-10T09:00:00-04:00', opened({ termites: 'live on bait' }), {
      baseMonitorLifted: true,
    });
    expect(onlyStation(bad.facts).disturbedWhileFeeding).toBe(true);
  });

  it.each([
    ['bait left', opened({ baitLeft: 'half' }), 'baited', 'half'],
    ['termites feeding', opened({ termites: 'live on bait' }), 'feeding', 'no bait'],
  ] as const)('counts bait seen that the ledger knows nothing of: %s', (_, finding, phase, baitLeft) => {
    const unrecorded = createBook();
    unrecorded.install('s1', '2024-01-10T09:00:00-05:00');
    unrecorded.see('s1', '2024-04-10T09:00:00-04:00', finding);
    const state = onlyStation(unrecorded.facts);
    expect([state.phase, state.baitedOn, state.baitLeft]).toEqual([phase, getDay('2024-04-10'), baitLeft]);
    const looks = dueWork([state], DEMO_PROFILE, getDay('2024-04-11')).items.map(({ work }) => work);
    expect(looks).toContain('baited check');
    unrecorded.see('s1', '2024-05-10T09:00:00-04:00', opened({ baitLeft: 'gone' }), { withdrawn: ['top'] });
    expect(onlyStation(unrecorded.facts).baitedOn).toBeNull();
  });

  it('counts misses until the station is opened again', () => {
    const missed = createBook();
    missed.install('s1', '2024-01-10T09:00:00-05:00');
    missed.see('s1', '2024-04-10T09:00:00-04:00', { reach: 'not found', why: 'mulch' });
    missed.see('s1', '2024-05-10T09:00:00-04:00', { reach: 'blocked', why: 'pallet' });
    expect([onlyStation(missed.facts).missesInARow, onlyStation(missed.facts).missedSince]).toEqual([
      2,
      getDay('2024-04-10'),
    ]);
    missed.see('s1', '2024-06-10T09:00:00-04:00', opened());
    expect([onlyStation(missed.facts).missesInARow, onlyStation(missed.facts).missedSince]).toEqual([
      0,
      null,
    ]);
  });
});

function fail(): never {
  throw new Error('the history is empty');
}
