import type { SentenceKey } from '@sillwatch/rounds';
import { type book as english, fillSentence } from './en.book.ts';
import { formatIn } from './format.ts';

const { number, plural } = formatIn('es-US');

const SENTENCES: Readonly<Record<SentenceKey, string>> = {
  'too little to say':
    'Muy poco para decir algo: {events} de al menos {leastEvents} casos, {subjects} de al menos {leastSubjects}.',
  'half by': 'A la mitad de {subjects} les llegó para el día {median} (95 %: día {lower} a {upper}).',
  'half not yet': 'A menos de la mitad de {subjects} les ha llegado; a {events} sí.',
  rate: '{events} en {exposure} estación-trimestres: {rate} de cada cien (95 %: {lower} a {upper}).',
  'rate unchanged':
    'Ahora {ratio} veces lo del año anterior (95 %: {lower} a {upper}): el azar solo puede hacer eso.',
  'rate fell':
    'Ahora {ratio} veces lo del año anterior (95 %: {lower} a {upper}): menos de lo que explica el azar.',
  'rate rose':
    'Ahora {ratio} veces lo del año anterior (95 %: {lower} a {upper}): más de lo que explica el azar.',
  'groups alike':
    'Ninguna diferencia entre los grupos que el azar no pudiera hacer (log-rank {chiSquare} con {degrees}, p {p}).',
  'groups differ':
    'Los grupos difieren más de lo que hace el azar (log-rank {chiSquare} con {degrees}, p {p}).',
  'groups too few': 'Muy poco para decir si los grupos difieren.',
  'mean wait':
    'En promedio pasaron {mean} de los primeros {horizon} días sin que llegara (95 %: {lower} a {upper}).',
  'funnel inside': 'Los {points} están donde los pone el azar solo.',
  'funnel edge':
    '{edge} de {points} más allá de las líneas interiores, ninguno de las exteriores: el azar solo pone ahí a uno de veinte.',
  'funnel outside':
    '{outside} de {points} están más lejos del resto de lo que los pone el azar solo: mire ahí, con sus patios en mente.',
  'funnel too few': 'Muy poco para decir algo: menos de dos de {points} tienen bastante para compararlos.',
  share: '{events} de {trials}: {share} % (95 %: {lower} a {upper}).',
  'share as colonies':
    '{events} de {trials}: {share} % (95 %: {lower} a {upper}), con todos los hallazgos de una estructura a la vez tomados por una colonia, y estaciones sin termitas por una colonia suprimida.',
  none: 'Ninguno.',
  count: '{count} en {properties} propiedades.',
  workload: '{visits} visitas, {minutes} minutos.',
  'bait used':
    '{applications} aplicaciones en los últimos cuatro trimestres: {grams} gramos de producto, {activeGrams} gramos de ingrediente activo.',
  'minutes assumed': 'Todavía no se ha aprendido nada: estas son las suposiciones.',
  'minutes learned':
    'Aprendido de {stations} revisiones y {visits} visitas; {odd} registros están muy fuera de lo usual y no cuentan.',
  'chances kept': '{happened} hallazgos donde se esperaban {expected}: el azar solo puede hacerlo (p {p}).',
  'chances off':
    '{happened} hallazgos donde se esperaban {expected}: más lejos de lo que hace el azar (p {p}). Use el orden, no los números.',
  'chances not tried':
    'Muy poco para decir qué tan ciertas son: a diez hallazgos no les sigue medio año de revisiones.',
  'soil warm':
    'Bastante caliente para que las termitas busquen alimento del {from} al {to}: {days} días del año.',
  'soil never warm': 'Nunca bastante caliente para que las termitas busquen alimento, según estos números.',
  'soil always warm': 'Bastante caliente para que las termitas busquen alimento todo el año.',
  'structures are not inspected':
    'No está en este registro: contiene revisiones de estaciones y ninguna inspección de las estructuras mismas.',
  'take it from the guideline': 'Tome esta cifra del texto mismo de la guía.',
};

/** Words of the pages of figures, in Spanish. */
export const book: typeof english = {
  book: {
    title: 'Libro',
    workTitle: '¿Sirven las estaciones?',
    pages: 'Páginas de cifras',
    say: (sentence) => fillSentence(SENTENCES, sentence, 'es-US', 'aún no se sabe'),
    summary: (properties, stations, late) =>
      `${plural(properties, 'propiedad', 'propiedades')}, ${plural(stations, 'estación', 'estaciones')}; ${late === 0 ? 'nada está atrasado.' : `${plural(late, 'trabajo atrasado', 'trabajos atrasados')}.`}`,
    late: 'Trabajo atrasado',
    looksKept: 'Revisiones dentro de su ventana',
    yearlyKept: 'Servicios anuales dentro de su ventana',
    unseen: 'Estaciones sin abrir dos veces seguidas',
    carried: 'Servicios anuales aplazados',
    hits: 'Hallazgos nuevos en cien estación-trimestres',
    openHits: 'Hallazgos abiertos',
    workload: 'Horas de trabajo en los próximos meses',
    renewals: 'Contratos que se renuevan pronto',
    missedByPerson: 'Ventanas perdidas, por técnico',
    notOpenedByPerson: 'Estaciones sin abrir, por técnico',
    missedByBranch: 'Ventanas perdidas, por sucursal',
    notOpenedByBranch: 'Estaciones sin abrir, por sucursal',
    material: 'Tiempo y material del último año',
    materialHow: 'Primero los más minutos; son los que van de la llegada al cierre, sin manejar.',
    materialHeads: ['Propiedad', 'Visitas', 'Minutos', 'Piezas', 'Cebo, gramos'],
    list: (n) => `La lista: ${plural(n, 'propiedad', 'propiedades')}`,
    of: (events, trials) => `${number(events)} de ${number(trials)}`,
    hitsIn: (hits, quarters) =>
      `${plural(hits, 'hallazgo', 'hallazgos')} en ${number(Math.round(quarters))} estación-trimestres`,
    visits: (n) => plural(n, 'visita', 'visitas'),
    withoutProfile: (n) =>
      `${plural(n, 'propiedad no está', 'propiedades no están')} en ninguna cifra: sin perfil de etiqueta.`,
    funnelHow:
      'A lo ancho: cuánto hay para juzgar. Dentro de las líneas interiores cae lo que el azar solo hace en diecinueve de veinte, dentro de las exteriores en 499 de 500.',
    funnelHeads: ['Quién', 'Cuántos', 'Parte', 'El azar solo', 'Situación'],
    standings: {
      'as the rest': 'como los demás',
      'beyond 95 %': 'más allá de diecinueve de veinte',
      'beyond 99.8 %': 'más allá de 499 de 500',
      'too little to say': 'muy poco para decir algo',
    },
    tooLittle: 'Muy poco para decir algo.',
    plot: (label) => `${label}: un dibujo; la tabla de abajo dice lo mismo`,
    when: 'Cuándo',
    inHundred: 'de cada cien',
    between: 'Diecinueve de veinte',
    from: 'De',
    day: (n) => `día ${number(n)}`,
    group: {
      '1 winter': 'instaladas en invierno',
      '2 spring': 'instaladas en primavera',
      '3 summer': 'instaladas en verano',
      '4 autumn': 'instaladas en otoño',
    },
    byQuarter: 'Trimestre por trimestre',
    byQuarterHow:
      'Se cuentan estaciones: varias de una estructura pueden compartir una colonia, y su intervalo es entonces más ancho de lo que dice la tabla. La frase de arriba lo tiene en cuenta.',
    quarterHeads: [
      'Trimestre',
      'Hallazgos',
      'En cien estación-trimestres',
      'Diecinueve de veinte',
      'Quedaron libres',
      'Monitores perdidos',
      'Sin abrir',
      'Revisiones',
    ],
    curveHeads: ['Para el', 'Todavía no', 'Diecinueve de veinte'],
    clearCaution: 'Que no haya termitas en las estaciones no prueba que la colonia ya no exista.',
    toFirstHit: 'Desde instalar las estaciones hasta el primer hallazgo, estructuras',
    toClear: 'Desde el cebo hasta quedar libre, estructuras',
    criteria: 'Criterios publicados',
    criteriaCaution:
      'Esto no es un estudio de registro: sin plan de estudio, sin estructuras no tratadas para comparar, sin mirar más que las estaciones.',
    criteriaLead:
      'Lo que se pidió a los estudios de cebos, y dónde quedarían las estructuras de esta empresa: las que recibieron su primer cebo hace un año o más.',
    criteriaHeads: ['Criterio', 'Se pide', 'Este registro, y la fuente'],
    criterion: {
      'free of termites, preventive use': 'Estructuras libres de termitas, uso preventivo',
      'gone within 12 months, remedial use': 'Desaparecidas en 12 meses, uso correctivo',
      'colonies suppressed': 'Colonias tratadas suprimidas',
      'current standards': 'Normas de desempeño vigentes',
    },
    risk: 'Dónde es más probable un hallazgo en la próxima revisión',
    riskCaution: 'Un orden de urgencia, nunca una razón para saltarse una visita pendiente.',
    riskFrom: (hits, looks) =>
      `Aprendido de ${plural(hits, 'hallazgo', 'hallazgos')} en ${plural(looks, 'revisión', 'revisiones')}.`,
    calibrationTitle: 'Qué tan ciertas eran las probabilidades de hace medio año',
    calibrationHeads: ['Se dijo', 'Ocurrió', 'Diecinueve de veinte', 'Hallazgos y revisiones'],
    riskList: 'Primero las más probables',
    rowsLeft: (n) =>
      `Las listas muestran sus primeras 200 filas; aquí faltan ${number(n)}. La API las da todas (most=).`,
    minutesTitle: 'Tiempo',
    minutesLead: 'Con esto se planea. Mientras no haya registros, vale una suposición.',
    minutesByWork: 'Minutos por trabajo',
    minutesHeads: ['Trabajo', 'Minutos', 'Registros'],
    minuteClass: {
      check: 'Revisión de una estación',
      'baited check': 'Revisión de una estación con cebo',
      'yearly service': 'Servicio anual de una estación',
      replacement: 'Reemplazo de una estación',
    },
    visitShare: 'La visita misma: llegar, dar la vuelta, hablar, papeles',
    factors: 'Quién y dónde tarda más o menos',
    factorsHow:
      'Veces los minutos en las estaciones. Se acerca a 1 cuanto más corto es el registro propio: al lado está la parte que es propia.',
    factorsNone: 'Muy poco para decir algo: los registros no distinguen a nadie ni ningún lugar del resto.',
    factorHeads: ['Quién o dónde', 'Veces', 'Registro propio', 'Visitas'],
    times: (n) => `× ${n.toLocaleString('es-US')}`,
    odd: 'Registros muy fuera de lo usual',
    oddHow:
      'No entran en lo aprendido. Un reloj que siguió andando o una visita cerrada tarde: corrija la anotación.',
    oddNone: 'Ningún registro está muy fuera de lo usual.',
    oddHeads: ['Propiedad', 'De', 'Minutos', 'Habitual'],
    wholeVisit: 'la visita aparte de sus estaciones',
    oneStation: 'una estación',
    baitTitle: 'Cebo',
    baitLead:
      'De los registros de aplicación de los últimos cuatro trimestres. Un inspector lee los registros mismos.',
    baitGrams: 'Gramos de producto por trimestre',
    gramsUnit: 'g',
    applications: (n) => plural(n, 'aplicación', 'aplicaciones'),
    noLabel: 'sin perfil de etiqueta',
    totalHeads: ['Trimestre', 'Producto', 'Número EPA', 'Aplicaciones', 'Producto, gramos', 'Activo, gramos'],
    reconciled: 'Comparado con las existencias contadas',
    reconciledHow:
      'Lo contado primero, más lo recibido y traído, menos lo registrado en estaciones, menos lo contado al final: lo que queda nadie lo explica.',
    reconciledNone: 'Muy poco para decir algo: ningún lugar contó su cebo en dos días.',
    reconciledHeads: [
      'Lugar',
      'Entre',
      'Primero',
      'Recibido',
      'Traído',
      'Registrado',
      'Último',
      'Sin explicar',
    ],
    unaccounted: (pieces, grams) => `${number(pieces)}${grams === null ? '' : ` (${number(grams)} g)`}`,
    notCounted: (n) =>
      `Nada con qué comparar: ${plural(n, 'lugar se contó', 'lugares se contaron')} un solo día como máximo`,
    baitByProperty: 'Por propiedad',
    byPropertyHeads: [
      'Propiedad',
      'Trimestre',
      'Producto',
      'Aplicaciones',
      'Producto, gramos',
      'Activo, gramos',
    ],
    riskHeads: ['Estación', 'Probabilidad', 'Nueve de diez'],
  },
};
