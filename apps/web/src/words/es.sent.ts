import type { sent as english } from './en.sent.ts';
import { formatIn } from './format.ts';

const { number, plural } = formatIn('es-US');

/** Words of the rounds that were sent out, and of addresses for calendars, in Spanish. */
export const sent: typeof english = {
  sent: {
    title: 'Enviado',
    see: 'Ver lo que tienen los teléfonos',
    lead: 'Lo que tienen los teléfonos: por día y técnico, con lo que cambió el último envío y lo que se anotó desde entonces.',
    pages: 'Páginas del plan',
    from: 'Desde el día',
    span: 'Por cuánto tiempo',
    spans: { 1: 'un día', 7: 'una semana', 28: 'cuatro semanas' },
    person: 'Técnico',
    everybody: 'Todos',
    nothing: 'No se envió nada para estos días.',
    nothingRemedy: 'Haga un plan y envíe sus rutas, o mire otros días.',
    changedPlan: 'Un plan se cambió después de enviarlo. Los teléfonos solo saben lo que está en esta lista.',
    toPlan: 'Al plan',
    calledOff: 'cancelada: ya sin visitas',
    progress: (done, all) => `${number(done)} de ${number(all)} hechas`,
    held: (n) => plural(n, 'fija', 'fijas'),
    changes: (n) => plural(n, 'cambio', 'cambios'),
    sentBy: (when, who) => `Enviada el ${when} por ${who}.`,
    forms: (n) => `Se ha cambiado ${plural(n, 'vez', 'veces')} desde el primer envío.`,
    done: (opened, unopened) =>
      `Hecha: ${plural(opened, 'estación abierta', 'estaciones abiertas')}${unopened === 0 ? '' : `, ${number(unopened)} no`}.`,
    doneOn: (day) => `El ${day}.`,
    notDone: 'Ese día no se anotó nada ahí.',
    isHeld: 'Fija.',
    isNew: 'Nueva con el último envío.',
    wasAt: (time) => `Estaba a las ${time}.`,
    cameFrom: (who, when) => `Viene de ${who}, ${when}.`,
    wentTo: (name, who, when) => `${name} pasó a ${who}, ${when}.`,
    wentNowhere: (name) => `${name} ya no está en ninguna ruta.`,
  },
  calendars: {
    title: 'Calendarios',
    lead: 'Un programa de calendario se suscribe a una dirección y se mantiene al día. Quien tiene la dirección puede leer, hasta que termine o se retire.',
    rounds: 'Rutas de técnicos',
    roundsHow: 'Dónde y cuándo, qué trabajo; sin notas de acceso, sin nombres ni teléfonos de clientes.',
    customers: 'Visitas para un cliente',
    customersHow:
      'Las visitas prometidas con sus horas, las planeadas como un día. Elija primero la propiedad.',
    property: 'Propiedad',
    propertyHint: 'El nombre, o cómo empieza',
    noProperty: 'Ninguna propiedad tiene este nombre.',
    whose: 'Rutas de quién',
    none: 'No se ha hecho ninguna dirección, o todas se retiraron.',
    used: (when) => `abierta por última vez el ${when}`,
    unused: 'sin abrir todavía, que se sepa',
    copy: 'Copiar la dirección',
    copied: 'Copiada',
    withdrawOf: (what) => `Retirar: ${what}`,
    withdrawn: 'Retirada: desde ahora no abre nada.',
  },
};
