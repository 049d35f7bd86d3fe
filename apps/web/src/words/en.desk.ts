import { book } from './en.book.ts';
import { drawing } from './en.drawing.ts';
import { entries } from './en.entries.ts';
import { load } from './en.figures.ts';
import { handOut } from './en.handOut.ts';
import { office } from './en.office.ts';
import { papers } from './en.papers.ts';
import { plan } from './en.plan.ts';
import { sent } from './en.sent.ts';
import { soil } from './en.soil.ts';
import { formatIn } from './format.ts';

const { number, plural } = formatIn('en-US');

/** Words of the office's screens, in English. */
export const desk = {
  ...office,
  ...handOut,
  ...entries,
  ...drawing,
  ...book,
  ...load,
  ...papers,
  ...plan,
  ...sent,
  ...soil,
  dueBoard: {
    allTechnicians: 'Anybody',
    technicianHint: 'Who was there last',
    town: 'Town',
    allTowns: 'All towns',
    townRows: (town: string, rows: number) => `${town} (${number(rows)})`,
    search: 'Name, street, town, customer or tag',
    back: 'All of what is due',
    today: 'today',
    legend: {
      window: 'window, from its first day to its last',
      target: 'day to aim for',
      first: 'first check',
      carried: 'carried over, feeding has ended',
    },
    loadingRow: 'Loading…',
  },
  time: {
    title: 'The ring in time',
    open: 'The ring in time',
    lead: 'Each column is a station, in its place along the wall; each row is a day on which somebody was there, the latest on top.',
    notDrawn: 'The structure or a station is not drawn, so stations stand evenly, by number.',
    nothing: 'Nothing has been recorded here yet.',
    picture: (name: string) => `${name}, unrolled`,
    spoken: (stations: number, visits: number) =>
      `What was found at ${plural(stations, 'station', 'stations')} on ${plural(visits, 'day', 'days')}. The table below says the same.`,
    station: (n: number) => `Station ${number(n)}`,
    said: {
      feeding: 'live on bait',
      hit: 'live on a monitor',
      signs: 'signs only',
      nothing: 'nothing',
      missed: 'not opened',
      set: 'set',
      removed: 'removed',
      lost: 'lost, set anew',
    },
    bait: 'bait in place',
    yearly: 'yearly service done',
    table: 'As a table',
    day: 'Day',
    seen: 'Stations seen',
    sides: {
      east: 'east wall',
      'north-east': 'north-east',
      north: 'north wall',
      'north-west': 'north-west',
      west: 'west wall',
      'south-west': 'south-west',
      south: 'south wall',
      'south-east': 'south-east',
    },
  },
};
