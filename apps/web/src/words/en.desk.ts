import { formatIn } from './format.ts';

const { number, plural } = formatIn('en-US');

/** Words of the office's screens, in English. */
export const desk = {
  dueBoard: {
    technician: 'Technician',
    allTechnicians: 'Anybody',
    technicianHint: 'Who was there last',
    town: 'Town',
    allTowns: 'All towns',
    townRows: (town: string, rows: number) => `${town} (${number(rows)})`,
    search: 'Name, street, town, customer or tag',
    all: (n: number) => `All ${number(n)}`,
    back: 'All of what is due',
    row: (at: number, of: number) => `${number(at)} of ${number(of)}`,
    axis: 'Windows from 90 days ago to 120 days ahead',
    today: 'today',
    legend: {
      window: 'window, from its first day to its last',
      target: 'day to aim for',
      first: 'first check',
      carried: 'carried over, feeding has ended',
    },
    loadingRow: 'Loading…',
    of: (n: number) => plural(n, 'property', 'properties'),
  },
};
