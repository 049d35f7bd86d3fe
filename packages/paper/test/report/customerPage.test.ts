import { type AnyFact, foldProperty } from '@sillwatch/trade';
import { expect, test } from 'vitest';
import { type CustomerPageInput, customerPage } from '../../src/report/customerPage.ts';
import { FIRM, fact, sampleFacts, seenBody, stationId, VISIT, VISIT_DAY } from './sample.ts';

function pageOf(facts: readonly AnyFact[], over: Partial<CustomerPageInput> = {}): string {
  return customerPage({
    firm: FIRM,
    property: foldProperty(facts),
    facts,
    next: [],
    until: null,
    invented: true,
    hrefOf: (visit, format) => `${visit}.${format}`,
    ...over,
  });
}

const NONE = 'No live termites were seen in the stations that we opened.';

test('says of each visit whether termites were found, as the report of the visit does', () => {
  const page = pageOf(sampleFacts());
  expect(page).toContain(
    '<p>Termites were feeding on bait in 1 station. Live termites were found on the monitor of 1 station.</p>',
  );
  expect(page).toContain('22 stations opened, 1 could not be opened');
  expect(page).not.toContain(NONE);
  // What none at the stations does not prove stands below, once.
  expect(page.match(/does not prove that there are none elsewhere/g)).toHaveLength(1);
});

test('says it of the record as it stands: a correction counts, what was corrected does not', () => {
  const facts = sampleFacts();
  const look = (number: number) =>
    facts.find((one) => one.station === stationId(number) && one.kind === 'station seen');
  const calm = (number: number, seq: number) => {
    const { finding } = seenBody(1);
    return fact(
      'fact corrected',
      { corrects: look(number)?.id, why: 'looked again', at: null, body: { ...seenBody(number), finding } },
      { at: `2026-03-05T09:0${seq}:00-05:00`, station: stationId(number) },
    );
  };
  const one = pageOf([...facts, calm(3, 1)]);
  expect(one).toContain('<p>Live termites were found on the monitor of 1 station.</p>');
  expect(pageOf([...facts, calm(3, 1), calm(7, 2)])).toContain(`<p>${NONE}</p>`);
});

test('keeps visits apart, newest first, and says nothing of termites where nothing was opened', () => {
  const later = fact(
    'station seen',
    { ...seenBody(12), visit: 'visit-2' },
    { at: '2026-04-06T10:00:00-04:00', station: stationId(12) },
  );
  const closed = fact(
    'visit closed',
    {
      visit: 'visit-2',
      task: 'check',
      technician: 'Pat Example',
      licenceNumber: 'LIC-INV-42',
      startedAt: '2026-04-06T09:50:00-04:00',
      note: '',
    },
    { at: '2026-04-06T10:05:00-04:00' },
  );
  const items = pageOf([...sampleFacts(), later, closed])
    .split('<li>')
    .slice(1);
  expect(items).toHaveLength(2);
  expect(items[0]).toContain('visit-2.html');
  expect(items[0]).toContain('1 could not be opened');
  expect(items[0]).not.toMatch(/termites/i);
  expect(items[1]).toContain(`${VISIT}.html`);
  expect(items[1]).toContain('Termites were feeding');
});

test('says so in the customer’s language, and no word about termites where there was no visit', () => {
  expect(pageOf(sampleFacts(), { lang: 'es-US' })).toMatch(/<p>[^<]*termitas[^<]*1 estación/i);
  const before = sampleFacts().filter(({ kind }) => kind !== 'station seen' && kind !== 'visit closed');
  const page = pageOf(before, { until: VISIT_DAY, invented: false });
  expect(page).toContain('No visit is recorded yet.');
  expect(page).not.toMatch(/termites/i);
});
