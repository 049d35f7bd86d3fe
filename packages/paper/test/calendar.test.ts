import { addDays, type DueWork, dueWork, getDay, type PropertyState, type RoundBody } from '@sillwatch/trade';
import fc from 'fast-check';
import ICAL from 'ical.js';
import { describe, expect, test } from 'vitest';
import { type Feed, feedToText, nextVisits, propertyFeed, roundFeed } from '../src/index.ts';
import { officeProperty, PROFILE, sampleRound } from './report/sample.ts';

const STAMP = Date.UTC(2026, 4, 30, 12);
const NOTHING: DueWork = { items: [], held: [], clearStructures: [] };
const DAY = getDay('2026-06-01');

function read(feed: Feed) {
  const text = feedToText(feed);
  // RFC 5545, 3.1: lines end with CRLF and are at most 75 octets long.
  for (const line of text.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
  expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  const calendar = new ICAL.Component(ICAL.parse(text));
  return {
    text,
    calendar,
    events: calendar.getAllSubcomponents('vevent').map((component) => new ICAL.Event(component)),
  };
}

const rounds = (over: Partial<PropertyState> = {}, at: readonly RoundBody[] = [sampleRound()]) =>
  roundFeed({
    personName: 'Pat Example',
    rounds: at,
    properties: new Map([['property-1', { ...officeProperty(), ...over }]]),
    stampMs: STAMP,
  });

// Outside check: ical.js, an independent reader of RFC 5545.
describe('rounds of a technician', () => {
  test('each visit is an event at its times and place, in UTC', () => {
    const { events, calendar, text } = read(rounds());
    expect(calendar.getFirstPropertyValue('version')).toBe('2.0');
    expect(calendar.getFirstPropertyValue('method')).toBe('PUBLISH');
    expect(String(calendar.getFirstPropertyValue('prodid'))).toContain('Sillwatch');
    expect(events).toHaveLength(2);
    const [first] = events;
    expect(first?.uid).toBe('visit-visit-2');
    expect(first?.startDate.toJSDate().toISOString()).toBe('2026-06-03T12:10:00.000Z');
    expect(first?.endDate.toJSDate().toISOString()).toBe('2026-06-03T13:40:00.000Z');
    expect(first?.startDate.zone.tzid).toBe('UTC');
    expect(first?.location).toBe('7 Marsh Lane, Example Springs, FL 00000');
    expect(first?.summary).toBe('Marsh Lane 7: 24 stations');
    expect(first?.description).toContain('Yearly service (1 station)');
    expect(first?.description).toContain('Feeding at 1 station: look, leave undisturbed.');
    expect(first?.component.getFirstPropertyValue('dtstamp')?.toString()).toBe('2026-05-30T12:00:00Z');
    expect(text).toContain('REFRESH-INTERVAL');
  });

  test('what opens a gate, and who lives there, stays in the house', () => {
    const { text } = read(rounds());
    const unfolded = text.replaceAll('\r\n ', '');
    expect(unfolded).not.toMatch(/0000 \(invented\)|power line|Ida|555-0100|ida@/);
  });

  test('the same visit keeps its id when it moves', () => {
    const [visit] = sampleRound().visits;
    if (visit === undefined) throw new Error('no visit');
    const moved = {
      ...sampleRound(),
      day: '2026-06-04',
      visits: [{ ...visit, startsAt: '2026-06-04T08:10:00-04:00', endsAt: '2026-06-04T09:00:00-04:00' }],
    };
    expect(read(rounds({}, [moved])).events[0]?.uid).toBe(read(rounds()).events[0]?.uid);
  });

  test('any text comes back as it was, and none adds a line of its own', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'grapheme-ascii', maxLength: 200 }),
        fc.string({ maxLength: 200 }),
        (name, note) => {
          const feed: Feed = {
            ...rounds(),
            events: [
              {
                id: 'x',
                when: { kind: 'day', day: '2026-06-03' },
                summary: `${name}\r\nATTENDEE:mailto:evil@example.invalid`,
                description: note,
                location: name,
                isTentative: true,
              },
            ],
          };
          const { events, calendar } = read(feed);
          expect(events).toHaveLength(1);
          expect(calendar.getFirstSubcomponent('vevent')?.getFirstProperty('attendee')).toBeNull();
          expect(events[0]?.summary).toContain('ATTENDEE:mailto:evil@example.invalid');
        },
      ),
      { numRuns: 200, seed: 2026 },
    );
  });
});

describe('next visits of a customer', () => {
  const feed = (property: PropertyState, more: { rounds?: readonly RoundBody[]; due?: DueWork } = {}) =>
    propertyFeed({
      property,
      rounds: more.rounds ?? [],
      due: more.due ?? NOTHING,
      asOf: DAY,
      stampMs: STAMP,
      timeZone: 'America/New_York',
    });
  const promised = (day: string): PropertyState => ({
    ...officeProperty(),
    promise: { day, from: '09:00', to: '12:00', how: 'by telephone' },
  });

  test('what was promised stands with its hours, on the clock of the place', () => {
    const [event] = read(feed(promised('2026-06-03'))).events;
    // 9 to 12 in daylight time of the eastern United States, four hours behind UTC
    expect(event?.startDate.toJSDate().toISOString()).toBe('2026-06-03T13:00:00.000Z');
    expect(event?.endDate.toJSDate().toISOString()).toBe('2026-06-03T16:00:00.000Z');
    expect(event?.component.getFirstPropertyValue('status')).toBe('CONFIRMED');
  });

  test('what is only planned is a whole day without an hour; a promise of the same day takes its place', () => {
    const { events, text } = read(feed(officeProperty(), { rounds: [sampleRound()] }));
    expect(events).toHaveLength(1);
    expect(events[0]?.startDate.isDate).toBe(true);
    expect(events[0]?.startDate.toString()).toBe('2026-06-03');
    expect(events[0]?.component.getFirstPropertyValue('status')).toBe('TENTATIVE');
    expect(text).not.toContain('property-gone');
    expect(
      nextVisits({ property: promised('2026-06-03'), rounds: [sampleRound()], due: NOTHING, asOf: DAY }),
    ).toEqual([{ kind: 'promised', day: getDay('2026-06-03'), from: '09:00', to: '12:00' }]);
  });

  test('without either, what is due; late work says so; the past is not shown', () => {
    const property = officeProperty();
    const due = dueWork(property.stations, PROFILE, DAY);
    const [next] = nextVisits({ property, rounds: [], due, asOf: DAY });
    expect(['due', 'late']).toContain(next?.kind);
    expect(read(feed(property, { due })).events).toHaveLength(1);
    const late = dueWork(property.stations, PROFILE, addDays(DAY, 900));
    expect(nextVisits({ property, rounds: [], due: late, asOf: addDays(DAY, 900) })[0]?.kind).toBe('late');
    expect(nextVisits({ property: promised('2026-05-01'), rounds: [], due: NOTHING, asOf: DAY })).toEqual([]);
    expect(read(feed(property)).events).toEqual([]);
  });
});
