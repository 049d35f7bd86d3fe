import type { handOut as english } from './en.handOut.ts';
import { formatIn } from './format.ts';

const { number } = formatIn('es-US');

/** Words of what leaves the house, in Spanish. */
export const handOut: typeof english = {
  handOut: {
    title: 'Entregar',
    open: 'Enviar o entregar',
    mail: 'Por correo electrónico',
    paper: 'Documento',
    papers: {
      'visit report': 'Informe de la última visita',
      'renewal letter': 'Carta de renovación',
      'station list': 'Lista de estaciones',
    },
    to: 'Para',
    language: 'Idioma',
    theirs: 'El anotado para la propiedad',
    preview: 'Ver lo que se enviaría',
    attached: (name, bytes) => `Adjunto: ${name}, ${number(Math.ceil(bytes / 1024))} kB`,
    send: (to) => `Enviar a ${to}`,
    queued: 'Espera su envío; la lista de abajo dice qué pasa con él.',
    addresses: 'Direcciones secretas',
    addressesHow:
      'Quien tiene la dirección ve esta única propiedad, sin entrar, hasta que termina o se retira. El secreto no se guarda en ninguna parte.',
    once: 'Cópiela ahora: se muestra solo esta vez',
    purposes: {
      'property page': 'Una página con los informes',
      'property calendar': 'Un calendario de las próximas visitas',
      'round calendar': 'Un calendario de rutas',
    },
    noEnd: 'hasta que se retire',
    until: (day) => `hasta el ${day}`,
    expired: 'terminada',
    withdraw: 'Retirar',
    what: 'Qué muestra',
    days: 'Días hasta que termina',
    daysHint: 'Vacío = hasta que se retire',
    make: 'Hacer una dirección',
    log: 'Enviado y en espera',
    notSetUp: 'Este servidor todavía no envía correo.',
    notSetUpRemedy: 'Quien lo maneja pone MAIL_HOST y MAIL_FROM; la vista previa funciona sin eso.',
    noMail: 'Todavía no se ha enviado nada.',
    states: {
      queued: 'espera',
      sending: 'se está enviando',
      sent: 'enviado',
      refused: 'rechazado',
      cancelled: 'retirado',
    },
    retry: 'Intentar ahora',
    cancel: 'Retirar',
  },
};
