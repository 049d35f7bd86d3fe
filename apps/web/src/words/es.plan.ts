import type { Remedy } from '@sillwatch/rounds';
import type { plan as english } from './en.plan.ts';
import { formatIn } from './format.ts';

const { listed, number, plural, trim } = formatIn('es-US');

const METRES_PER_MILE = 1609.344;
/** Tenths below ten miles: around a corner is not "0 mi". */
const miles = (metres: number): string => {
  const count = metres / METRES_PER_MILE;
  return `${count < 10 ? trim(count) : number(Math.round(count))} mi`;
};
const minutes = (n: number): string => plural(Math.round(n), 'minuto', 'minutos');
const hours = (n: number): string => `${trim(n / 60)} h`;

/** Words of the pages of the plan, in Spanish. */
export const plan: typeof english = {
  plan: {
    title: 'Plan',
    lead: 'Quién va adónde, qué día y en qué orden: cada ventana y cada promesa cumplidas, visitas juntas, poco manejar.',
    from: 'Primer día',
    fromHint: 'Vacío = mañana',
    weeks: 'Por cuánto tiempo',
    weekCount: (n) => plural(n, 'semana', 'semanas'),
    search: 'Buscar durante',
    seconds: (n) => (n < 60 ? plural(n, 'segundo', 'segundos') : plural(n / 60, 'minuto', 'minutos')),
    start: 'Planear',
    nobody: 'Nadie de esta sucursal tiene horario todavía.',
    nobodyRemedy: 'Dar un horario a los técnicos',
    earlier: 'Planes anteriores',
    span: (from, days) => `${plural(Math.round(days / 7), 'semana', 'semanas')} desde ${from}`,
    states: {
      waiting: 'espera su turno',
      running: 'se está buscando',
      done: 'listo',
      cancelled: 'detenido, se guarda lo mejor',
      failed: 'falló',
    },
    sentOut: 'Enviado',
    changedSince: 'cambiado desde que se envió',
    failed: 'El plan falló',
    failures: {
      'the server failed while planning': 'El servidor falló mientras buscaba; su registro dice por qué.',
      'stopped before a plan was found': 'Detenido antes de encontrar un plan.',
      'stopped before it began': 'Detenido antes de empezar.',
    },
    planAnew: 'Planear de nuevo',
    noPlan: 'No existe ese plan',
    noPlanRemedy:
      'Los planes que nunca se enviaron se borran después de 60 días. Planee de nuevo; lo enviado se guarda.',
    waiting: 'Espera su turno',
    searching: 'Buscando',
    progress: (p) =>
      `Hasta ahora ${plural(p.rounds, 'ruta', 'rutas')} con ${plural(p.visits, 'visita', 'visitas')}, ${hours(p.driveMinutes)} de manejar, ${number(p.unplannedVisits)} fuera.`,
    stop: 'Detener y guardar lo mejor',
    summary: (t) =>
      `${plural(t.visits, 'visita', 'visitas')} en ${plural(t.rounds, 'ruta', 'rutas')}, ${miles(t.driveMetres)}.`,
    travel: {
      'great circle': 'Los tiempos de manejo se calculan por distancia.',
      'road network in process': 'Los tiempos de manejo vienen de una red de caminos en este servidor.',
      'road service': 'Los tiempos de manejo vienen de un servicio de caminos.',
    },
    sendOut: 'Enviar las rutas',
    sent: (s) =>
      `${plural(s.rounds, 'ruta', 'rutas')} con ${plural(s.visits, 'visita', 'visitas')} enviadas; los teléfonos las traen solos.`,
    rounds: 'Rutas',
    noRounds: 'No hay rutas en este plan.',
    noRound: 'Sin ruta',
    before: 'Semana anterior',
    after: 'Semana siguiente',
    weekOf: (day) => `Semana del ${day}`,
    roundOf: (round) =>
      `${plural(round.visits.length, 'visita', 'visitas')}, ${miles(round.visits.reduce((sum, visit) => sum + visit.driveMetres, 0))}`,
    roundTitle: (who, day) => `${who}, ${day}`,
    workList: 'Lista de trabajo (PDF)',
    asks: (n) => plural(n, 'pedido', 'pedidos'),
    drive: (n, metres) => `${minutes(n)} y ${miles(metres)} para llegar.`,
    frozen: 'Fija: los planes siguientes la dejan aquí.',
    move: 'Mover',
    freeze: 'Fijar aquí',
    thaw: 'Soltar',
    toDay: 'Al día',
    toPerson: 'A quién',
    tryMove: '¿Cuánto costaría?',
    applyMove: 'Moverla',
    moveCost: (m) =>
      `${m.driveMinutes < 0 ? 'Ahorra' : 'Cuesta'} ${minutes(Math.abs(m.driveMinutes))} de manejar; ` +
      `${miles(Math.abs(m.driveMetres))} ${m.driveMetres < 0 ? 'menos' : 'más'}` +
      (Math.round(m.overtimeMinutes) === 0
        ? '.'
        : `; ${minutes(Math.abs(m.overtimeMinutes))} ${m.overtimeMinutes < 0 ? 'menos' : 'más'} de horas extra.`),
    byMinutes: (n) => minutes(n),
    asking: 'Calculando…',
    othersShift: (n) => `${plural(n, 'visita más empieza', 'visitas más empiezan')} a otra hora.`,
    cannot: (why) => `No se puede poner ahí: ${why}.`,
    moveRefusals: {
      'no such visit': 'el plan ya no tiene esta visita',
      'no such technician': 'la empresa no tiene ese técnico',
      'day outside the plan': 'el día está fuera del plan',
      'no such position': 'la ruta no tiene ese lugar',
    },
    changedByOther:
      'Otra persona cambió el plan mientras tanto. Lo que ve ahora es lo suyo: mírelo y repita lo que hizo.',
    dragHow: 'Arrastre una visita a otro día o técnico, o púlsela y muévala con un formulario.',
    withVisits: 'Mostrar las visitas',
    dropHow: 'Suéltela sobre un día y un técnico; Escape la devuelve.',
    confirmMove: (name, who, when) => `¿Mover ${name} a ${who}, ${when}?`,
    leaveIt: 'Dejarla donde está',
    moveAllTheSame: 'Moverla de todos modos',
    nowWith: (name, who, when) => `${name} está ahora con ${who} el ${when}.`,
    close: 'Cerrar',
    noAnswer: 'El servidor no responde; se le vuelve a preguntar solo. La búsqueda sigue allá.',
    putBack: 'Devolverla',
    moveDue: {
      'too early': (days) => `${plural(Math.abs(days), 'día', 'días')} antes de que se abra su ventana.`,
      'in its window': () => 'Sigue dentro de su ventana.',
      late: (days) => `${plural(Math.abs(days), 'día', 'días')} después de su último día.`,
    },
    breaks: (n) => `rompe ${plural(n, 'regla', 'reglas')}`,
    rules: {
      'past the hours of the property': 'Fuera del horario de la propiedad',
      'past the working hours': 'Fuera del horario de trabajo',
      'no room for the break': 'Sin lugar para el descanso',
      'outside the due window': 'Fuera de su ventana',
      'not a visiting day of the property': 'No es día de visita de la propiedad',
      'promised for another day': 'Al cliente se le dijo otro día',
      'frozen with another technician': 'Fija con otro técnico',
      'skill missing': 'El técnico no sabe hacer lo que pide la propiedad',
    },
    call: (n) => `${plural(n, 'cliente por llamar', 'clientes por llamar')}: lo dicho no se puede cumplir`,
    released: { 'frozen visit': 'fija para el', promise: 'prometida para el' },
    releaseReasons: {
      'technician away': 'el técnico está ausente',
      'technician has left': 'el técnico ya no está',
      'technician does not work that day': 'el técnico no trabaja ese día',
      'branch closed': 'la sucursal está cerrada',
      'nobody works that day': 'nadie trabaja ese día',
    },
    unplanned: (n) => `${plural(n, 'visita', 'visitas')} en ninguna ruta`,
    unplannedReasons: {
      'no position': 'no se sabe su lugar en el mapa',
      'no label profile': 'no tiene perfil de etiqueta',
      'no day left': 'no queda ningún día',
      'nobody works on its days': 'nadie trabaja en sus días',
      'nobody has the skills': 'nadie sabe hacer lo que pide',
      'its person is away': 'su técnico está ausente',
      'too far or too long for a day': 'está muy lejos, o tarda demasiado, para un día',
      'no room': 'las rutas están llenas',
    },
    wouldFit: 'Probado, y cabría con:',
    remedy: (r: Remedy, who: string, when: string): string => {
      switch (r.kind) {
        case 'overtime':
          return `${minutes(r.minutes)} de horas extra para ${who} el ${when}`;
        case 'another day':
          return r.daysOutside === 0
            ? `${who} el ${when}, dentro de su ventana`
            : `${who} el ${when}, ${plural(Math.abs(r.daysOutside), 'día', 'días')} ${r.daysOutside < 0 ? 'antes de que se abra su ventana' : 'después de su último día'}`;
        case 'a day more':
          return `un día de trabajo más para ${who}, el ${when}`;
        case 'give up the hours':
          return `cualquier hora del ${when}, con ${who}: sin el horario de la propiedad`;
        case 'another technician':
          return `${who} el ${when}`;
        case 'a skill':
          return `que ${who} sepa: ${r.skills.join(', ')} (${when})`;
        case 'one technician more':
          return `un técnico más el ${when}`;
        case 'enter its position':
          return 'su lugar en el mapa, una vez anotado';
        case 'enter its label profile':
          return 'su perfil de etiqueta, una vez anotado';
      }
    },
    price: (n) => (Math.abs(n) < 600 ? minutes(n) : hours(n)),
    priceHow:
      'Entre paréntesis, lo que cada uno vale en tiempo de un técnico: manejar y trabajar, y lo que cuentan otros días, otras personas y los días de atraso.',
    tryRemedy: 'Verlo',
    toHours: 'Horario y saberes de los técnicos',
    toPeople: 'Gente de la empresa',
    toProperty: 'A la propiedad',
    windowOf: (from, to) => `Cumple su ventana del ${from} al ${to}.`,
    putInRound: 'Poner en una ruta',
    pullIn: 'Ponerla ahí',
    lateWorks: (works, day) => `${plural(works, 'trabajo', 'trabajos')} con último día el ${day},`,
    plannedOn: (day) => `en el plan para el ${day}`,
    plannedNever: 'en el plan para ningún día',
    lateReasons: {
      'late before the plan begins': 'Su último día pasó antes de que empiece el plan.',
      'in no round': 'No está en ninguna ruta; la lista de arriba dice qué le haría lugar.',
      'no day of its window can be used':
        'Ningún día de su ventana se puede visitar: nadie maneja, o la propiedad no lo permite.',
      'no room on the days of its window': 'Las rutas de los días de su ventana están llenas.',
      'there is room that was not used':
        'Hay lugar dentro de su ventana: la búsqueda terminó antes, o la visita se movió a mano.',
    },
    late: (n) => `${plural(n, 'ventana', 'ventanas')} que este plan no cumple`,
    lateBefore: (n) =>
      `${plural(n, 'ventana pasada', 'ventanas pasadas')} antes de que empiece el plan, y cuándo se recuperan`,
    compared: 'Comparado',
    byHandHow:
      '“A mano” es una manera de hacerlo: cada propiedad en su día previsto, con el técnico más cercano, después la más cercana.',
    moreMiles: (than) => {
      const fewer = [
        ...(than.hours > 0 ? [plural(than.hours, 'hora', 'horas')] : []),
        ...(than.rounds > 0 ? [plural(than.rounds, 'ruta', 'rutas')] : []),
        ...(than.late > 0 ? [plural(than.late, 'trabajo atrasado', 'trabajos atrasados')] : []),
      ];
      return `Este plan recorre ${miles(than.metres)} más que a mano${fewer.length === 0 ? '' : `, con ${listed(fewer)} menos`}. La búsqueda cuenta el tiempo de los técnicos, los días de atraso y quién va adónde; las millas cuentan por el tiempo que llevan.`;
    },
    what: 'Qué',
    thisPlan: 'Este plan',
    lastPlan: 'Enviado antes',
    byHand: 'A mano',
    nowhere: 'en ninguna parte',
    rows: {
      rounds: 'Rutas',
      visits: 'Visitas',
      driveMetres: 'Millas',
      hours: 'Horas',
      overtimeMinutes: 'Horas extra',
      lateWorks: 'Trabajos atrasados',
      otherPerson: 'Visitas de alguien nuevo',
    },
    moved: (n, kept) =>
      `${plural(n, 'visita movida', 'visitas movidas')}, ${number(kept)} iguales, frente a lo enviado antes`,
    map: (day) => `Mapa del ${day}`,
    mapWeek: (day) => `Mapa de la semana del ${day}`,
    mapOf: (who) => `Mapa de todas las rutas de ${who}`,
    mapSpan: 'En el mapa',
    mapSpans: {
      day: 'Un día, todos los técnicos',
      week: 'La semana, todos los técnicos',
      person: (who) => `${who}, todos los días`,
    },
    mapHow:
      'Líneas rectas desde la salida por cada visita hasta el final, el norte arriba; no se dibujan caminos.',
    mapOrder: 'El número es el lugar en la ruta.',
    mapDays: 'El número es el día del mes.',
    mapNothing: 'Nada que dibujar: no hay ruta, o no se sabe dónde están sus propiedades.',
    mapHome: 'Salida y final de las rutas',
    mapHomeOf: (who) => `Salida o final: ${who.join(', ')}`,
    mapSpoken: (n) =>
      `${plural(n, 'ruta', 'rutas')} como líneas de visita a visita. Las listas dicen lo mismo.`,
  },
};
