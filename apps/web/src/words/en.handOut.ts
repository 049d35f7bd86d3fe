import { formatIn } from './format.ts';

const { number } = formatIn('en-US');

/** Words of what leaves the house, in English. */
export const handOut = {
  handOut: {
    title: 'Hand out',
    open: 'Send or hand out',
    mail: 'By e-mail',
    paper: 'Paper',
    papers: {
      'visit report': 'Report of the last visit',
      'renewal letter': 'Renewal letter',
      'station list': 'Station list',
    },
    to: 'To',
    language: 'Language',
    theirs: 'As written down for the property',
    preview: 'See what would go',
    attached: (name: string, bytes: number) => `Attached: ${name}, ${number(Math.ceil(bytes / 1024))} kB`,
    send: (to: string) => `Send to ${to}`,
    queued: 'It waits to be sent; the list below says what becomes of it.',
    addresses: 'Secret addresses',
    addressesHow:
      'Whoever has the address sees this one property, without signing in, until it ends or is withdrawn. The secret is kept nowhere.',
    once: 'Copy it now: it is shown this once',
    purposes: {
      'property page': 'A page with the reports',
      'property calendar': 'A calendar of the next visits',
      'round calendar': 'A calendar of rounds',
    },
    noEnd: 'until withdrawn',
    until: (day: string) => `until ${day}`,
    expired: 'over',
    withdraw: 'Withdraw',
    what: 'What it shows',
    days: 'Days until it ends',
    daysHint: 'Empty = until it is withdrawn',
    make: 'Make an address',
    log: 'Sent and waiting',
    notSetUp: 'This server sends no e-mail yet.',
    notSetUpRemedy: 'Whoever runs it sets MAIL_HOST and MAIL_FROM; a preview works without.',
    noMail: 'Nothing was sent yet.',
    states: {
      queued: 'waits',
      sending: 'is being sent',
      sent: 'sent',
      refused: 'refused',
      cancelled: 'taken back',
    },
    retry: 'Try again now',
    cancel: 'Take back',
  },
};
