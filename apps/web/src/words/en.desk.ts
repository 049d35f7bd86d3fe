import { office } from './en.office.ts';
import { formatIn } from './format.ts';

const { number } = formatIn('en-US');

/** Words of the office's screens, in English. */
export const desk = {
  ...office,
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
};
