import type { changes as english } from './en.changes.ts';

/** Words for what a correction changed, in Spanish. */
export const changes: typeof english = {
  changes: {
    title: 'Qué cambia',
    was: (said) => `antes: ${said}`,
    now: (said) => `ahora: ${said}`,
    yes: 'sí',
    labels: {
      day: 'Día',
      text: 'Nota',
      task: 'Se vino para',
      reach: '¿Se pudo abrir?',
      why: 'Por qué no se abrió',
      termites: 'Termitas vivas',
      baitLeft: 'Cebo que queda',
      monitor: 'Estado del monitor',
      housing: 'Carcasa y tapa',
      occupants: 'Otros ocupantes',
      service: 'Servicio anual hecho',
      lifted: 'Monitor de base levantado',
      cleaned: 'Limpiada por dentro',
      bait: 'Cebo puesto, lugar',
      monitors: 'Monitor puesto, lugar',
      withdrawn: 'Sacado, lugar',
      repairs: 'Arreglado',
      parts: 'Piezas usadas',
      minutes: 'Minutos usados',
      elsewhere: 'El registro de uso se guarda',
      note: 'Nota',
      photos: 'Fotos',
    },
    slots: { base: 'de base', top: 'superior', cup: 'copa de cebo', bait: 'cebo' },
  },
};
