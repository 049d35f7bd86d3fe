import type { practice as english } from './en.practice.ts';
import { formatIn } from './format.ts';

const { number, plural } = formatIn('es-US');

/** The words of the practice yard, in Spanish. */
export const practice: typeof english = {
  title: 'Patio de práctica',
  lead: 'Una propiedad inventada con una estación en cada estado. Atiéndala con las mismas pantallas; no se envía nada, y nada de su empresa cambia. Funciona sin señal; lo hecho se queda aquí durante el día.',
  house: 'Casa',
  begin: 'Empezar',
  again: 'Empezar de nuevo',
  go: 'Al patio',
  scene: 'Lo que encuentra',
  compare: 'Comparar con las reglas',
  compareLead: 'Cada registro suyo junto a lo que había que ver, y la regla con su motivo.',
  compareNone: 'Todavía nada registrado. Atienda primero algunas estaciones.',
  right: 'Como dicen las reglas',
  wrong: 'No como dicen las reglas',
  score: (right, all) => `${number(right)} de ${number(all)} como dicen las reglas`,
  decide: '¿Qué haría usted aquí?',
  decideLead: 'Decida primero; después hablan las reglas, con su razón.',
  decisions: {
    'look only': 'Solo mirar: no tocar nada, cerrar',
    'put bait in': 'Poner cebo sin tocar el monitor de base',
    'add bait': 'Añadir cebo sin tocar el monitor de base',
    'renew bait': 'Sacar el cebo y poner cebo nuevo',
    'take bait out': 'Sacar el cebo, renovar y limpiar',
    'renew and clean out': 'Renovar los monitores y limpiar',
    'new housing': 'Desenterrarla y poner una carcasa nueva',
    'put back': 'Volver a ponerlo todo y cerrar',
    'tell the office': 'Anotar el motivo, tomar una foto, avisar a la oficina',
  },
  decidedRight: 'Las reglas dicen lo mismo',
  decidedOther: (wanted: string) => `Las reglas dicen: ${wanted}`,
  decided: (decision: string) => `Usted decidió: ${decision}.`,
  decidedScore: (right: number, all: number) =>
    `${number(right)} de ${number(all)} primeras decisiones según las reglas`,
  youDecided: 'Usted decidió',
  youSaid: 'Usted registró',
  wasThere: 'Había que ver',
  ruleDo: 'Las reglas piden',
  youDid: 'Usted no hizo',
  youAdded: 'Usted hizo además',
  reason: 'Por qué',
  left: (n) => `${plural(n, 'estación', 'estaciones')} todavía sin atender.`,
  differs: {
    reach: 'si se pudo abrir',
    termites: 'termitas',
    baitLeft: 'cebo que queda',
    monitor: 'monitor',
    housing: 'carcasa',
    occupants: 'lo que vive adentro',
  },
  scenes: {
    quiet: 'Carcasa seca. Los dos monitores están bien. Nada se mueve.',
    mud: 'Barro viejo corre sobre el monitor superior. Mira un rato: nada se mueve.',
    hit: 'Sale la tapa. Insectos pálidos y blandos huyen de la luz hacia el monitor de base.',
    feeding:
      'Hay cebo en el lugar de arriba, falta más o menos la mitad. Insectos pálidos trabajan en él. Abajo, el monitor de base.',
    feedingLow:
      'Del cebo solo quedan migajas, mucho menos de un cuarto. Entre ellas corren insectos pálidos.',
    ended: 'El cebo está como estaba, tres cuartos. Ningún insecto en él, ninguno abajo. Todo seco.',
    clear:
      'Cebo, más o menos la mitad. Ningún insecto, nada de barro fresco. Así estuvo las dos últimas veces.',
    lost: 'El mapa dice que está junto a la llave del agua. Hay pavimento nuevo, y no se ve ninguna tapa.',
    flooded: 'Agua hasta la tapa. Los monitores están blandos y oscuros y se deshacen. Nada vivo.',
    ants: 'Hormigas rojas pequeñas corren sobre la tapa al barrerla. Monitores bien, sin termitas.',
    swollen: 'El monitor de base se hinchó y no sale; la carcasa está bien. Sin termitas.',
    broken: 'La carcasa está partida de arriba abajo. Los monitores están bien y secos. Sin termitas.',
  },
};
