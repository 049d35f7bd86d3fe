import type { Words } from './en.ts';
import { office } from './es.office.ts';
import { formatIn } from './format.ts';

const { number } = formatIn('es-US');

/** Words of the office's screens, in Spanish. */
export const desk: Words['desk'] = {
  ...office,
  dueBoard: {
    allTechnicians: 'Cualquiera',
    technicianHint: 'Quién estuvo la última vez',
    town: 'Población',
    allTowns: 'Todas las poblaciones',
    townRows: (town, rows) => `${town} (${number(rows)})`,
    search: 'Nombre, calle, población, cliente o etiqueta',
    back: 'Todo lo pendiente',
    today: 'hoy',
    legend: {
      window: 'ventana, del primer día al último',
      target: 'día previsto',
      first: 'primera revisión',
      carried: 'aplazado, ya no se alimentan',
    },
    loadingRow: 'Cargando…',
  },
};
