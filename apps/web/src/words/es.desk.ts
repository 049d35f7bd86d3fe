import type { desk as english } from './en.desk.ts';
import { book } from './es.book.ts';
import { drawing } from './es.drawing.ts';
import { entries } from './es.entries.ts';
import { load } from './es.figures.ts';
import { handOut } from './es.handOut.ts';
import { office } from './es.office.ts';
import { papers } from './es.papers.ts';
import { plan } from './es.plan.ts';
import { sent } from './es.sent.ts';
import { soil } from './es.soil.ts';
import { formatIn } from './format.ts';

const { number, plural } = formatIn('es-US');

/** Words of the office's screens, in Spanish. */
export const desk: typeof english = {
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
  time: {
    title: 'El anillo en el tiempo',
    open: 'El anillo en el tiempo',
    lead: 'Cada columna es una estación, en su lugar a lo largo de la pared; cada fila es un día en que alguien estuvo, el último arriba.',
    notDrawn:
      'La estructura o una estación no está dibujada, así que las estaciones van a distancias iguales, por número.',
    nothing: 'Aquí todavía no se ha registrado nada.',
    picture: (name) => `${name}, desenrollado`,
    spoken: (stations, visits) =>
      `Lo hallado en ${plural(stations, 'estación', 'estaciones')} en ${plural(visits, 'día', 'días')}. La tabla de abajo dice lo mismo.`,
    station: (n) => `Estación ${number(n)}`,
    said: {
      feeding: 'vivas en el cebo',
      hit: 'vivas en un monitor',
      signs: 'solo señales',
      nothing: 'nada',
      missed: 'sin abrir',
      set: 'instalada',
      removed: 'retirada',
      lost: 'perdida, instalada de nuevo',
    },
    bait: 'con cebo',
    yearly: 'servicio anual hecho',
    table: 'Como tabla',
    day: 'Día',
    seen: 'Estaciones vistas',
    sides: {
      east: 'pared este',
      'north-east': 'noreste',
      north: 'pared norte',
      'north-west': 'noroeste',
      west: 'pared oeste',
      'south-west': 'suroeste',
      south: 'pared sur',
      'south-east': 'sureste',
    },
  },
};
