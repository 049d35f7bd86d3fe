import {
  BAIT_LEFT,
  type Day,
  FOUNDATIONS,
  findDay,
  HOUSING_CONDITIONS,
  MONITOR_CONDITIONS,
  OCCUPANTS,
  REACHES,
  TASKS,
  TERMITE_FINDINGS,
} from '@sillwatch/trade';
import type { Field } from './fields.ts';
import type { DateOrder } from './mapping.ts';
import type { NoteKey } from './words/tell.ts';

const NUMERIC_DATE = /^(\d{1,4})[/.-](\d{1,2})[/.-](\d{1,4})(?:[ T].*)?$/;
const MONTHS: Readonly<Record<string, number>> = {
  jan: 1,
  ene: 1,
  feb: 2,
  mar: 3,
  apr: 4,
  abr: 4,
  may: 5,
  jun: 6,
  jul: 7,
  aug: 8,
  ago: 8,
  sep: 9,
  set: 9,
  oct: 10,
  nov: 11,
  dec: 12,
  dic: 12,
};

export function looksLikeDate(cell: string): boolean {
  return NUMERIC_DATE.test(cell) || namedDate(cell) !== undefined;
}

/** Reads a day as people write it; undefined when it is none. Two-digit years are of this century. */
export function findDate(cell: string, order: DateOrder): Day | undefined {
  const text = cell.trim();
  const named = namedDate(text);
  if (named !== undefined) return findDay(named);
  const match = NUMERIC_DATE.exec(text);
  if (match === null) return undefined;
  const [, a = '', b = '', c = ''] = match;
  if (a.length === 4) return isoDay(a, b, c);
  if (a.length > 2 || (c.length !== 2 && c.length !== 4)) return undefined;
  if (order === 'ymd' && c.length === 2) return isoDay(a, b, c);
  return order === 'dmy' ? isoDay(c, b, a) : isoDay(c, a, b);
}

function isoDay(year: string, month: string, day: string): Day | undefined {
  const full = year.length === 2 ? `20${year}` : year;
  return findDay(`${full.padStart(4, '0')}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`);
}

/** `4 Mar 2026`, `March 4, 2026`, `4 de marzo de 2026`. */
function namedDate(text: string): string | undefined {
  const words = text
    .toLowerCase()
    .replaceAll(/[.,]/g, ' ')
    .replaceAll(/\bde\b/g, ' ')
    .trim()
    .split(/[\s-]+/);
  if (words.length !== 3) return undefined;
  const monthAt = words.findIndex((word) => MONTHS[word.slice(0, 3)] !== undefined && /^\p{L}+$/u.test(word));
  if (monthAt === -1 || monthAt === 2) return undefined;
  const month = MONTHS[(words[monthAt] ?? '').slice(0, 3)] ?? 0;
  const day = words[monthAt === 0 ? 1 : 0] ?? '';
  const year = words[2] ?? '';
  if (!/^\d{1,2}$/.test(day) || !/^\d{4}$/.test(year)) return undefined;
  return `${year}-${String(month).padStart(2, '0')}-${day.padStart(2, '0')}`;
}

/** Which order the numeric dates are in: a first or second number over 12 decides; without one the American order is taken, with a warning. */
export function guessDateOrder(cells: readonly string[]): {
  readonly order: DateOrder;
  readonly warning?: NoteKey;
} {
  let monthFirst = 0;
  let dayFirst = 0;
  let open = 0;
  for (const cell of cells) {
    const match = NUMERIC_DATE.exec(cell.trim());
    if (match === null || (match[1] ?? '').length === 4) continue;
    const first = Number(match[1]);
    const second = Number(match[2]);
    if (first > 12) dayFirst += 1;
    else if (second > 12) monthFirst += 1;
    else if (first !== second) open += 1;
  }
  if (dayFirst > 0 && monthFirst > 0) {
    return {
      order: monthFirst >= dayFirst ? 'mdy' : 'dmy',
      warning: 'date orders mixed',
    };
  }
  if (dayFirst > 0) return { order: 'dmy' };
  if (monthFirst > 0 || open === 0) return { order: 'mdy' };
  return { order: 'mdy', warning: 'date order open' };
}

/** What people write for the words of the ledger, English and Spanish. */
const SYNONYMS: Readonly<Partial<Record<Field, Readonly<Record<string, readonly string[]>>>>> = {
  termites: {
    none: [
      'no',
      'n',
      'no activity',
      'no termites',
      'clear',
      'ok',
      'nothing',
      'inactive',
      '0',
      'ninguna',
      'sin actividad',
      'nada',
      'inactiva',
    ],
    'signs only': [
      'signs',
      'damage',
      'mud',
      'old activity',
      'past activity',
      'evidence',
      'senales',
      'dano',
      'barro',
      'evidencia',
    ],
    'live on monitor': [
      'live',
      'active',
      'termites',
      'live termites',
      'hit',
      'yes',
      'y',
      'activity',
      'vivas',
      'activa',
      'termitas',
      'si',
    ],
    'live on bait': ['feeding', 'on bait', 'live in bait', 'eating bait', 'alimentandose', 'en cebo'],
  },
  task: {
    check: [
      'checked',
      'inspection',
      'inspect',
      'quarterly',
      'monitoring',
      'revision',
      'inspeccion',
      'trimestral',
    ],
    'yearly service': [
      'yearly',
      'annual',
      'annual service',
      'annual renewal',
      'clean out',
      'cleanout',
      'anual',
      'servicio anual',
    ],
  },
  reach: {
    opened: ['yes', 'y', 'ok', 'accessible', 'found', 'si', 'abierta', 'accesible'],
    'not found': ['missing', 'lost', 'no', 'n', 'not located', 'no encontrada', 'perdida'],
    blocked: ['inaccessible', 'no access', 'locked', 'covered', 'bloqueada', 'inaccesible', 'sin acceso'],
  },
  baitLeft: {
    'no bait': ['none', 'n/a', 'na', '-', 'sin cebo', 'ninguno'],
    full: ['100%', '100', '1', 'lleno', 'new'],
    'three quarters': ['75%', '75', '3/4', '0.75'],
    half: ['50%', '50', '1/2', '0.5', 'mitad'],
    'a quarter': ['25%', '25', '1/4', '0.25', 'quarter'],
    gone: ['0%', '0', 'empty', 'consumed', 'vacio', 'consumido'],
  },
  monitor: {
    sound: ['ok', 'good', 'intact', 'fine', 'bueno', 'buena', 'sano'],
    eaten: ['damaged', 'attacked', 'comido', 'danado'],
    rotten: ['rot', 'decayed', 'wet', 'podrido'],
    swollen: ['stuck', 'hinchado'],
    missing: ['gone', 'none', 'falta'],
  },
  housing: {
    sound: ['ok', 'good', 'fine', 'buena', 'bien'],
    'cap damaged': ['broken cap', 'cap broken', 'cap missing', 'lid damaged', 'tapa danada', 'tapa rota'],
    loose: ['raised', 'heaved', 'suelta'],
    flooded: ['water', 'wet', 'inundada', 'agua'],
    'filled with soil': ['soil', 'dirt', 'mud', 'tierra'],
    broken: ['damaged', 'cracked', 'rota', 'danada'],
  },
  occupants: {
    none: ['no', 'n', '-', 'ninguno', 'ninguna'],
    ants: ['ant', 'yes', 'fire ants', 'hormigas'],
    'stinging insects': ['wasps', 'wasp', 'hornets', 'bees', 'avispas'],
    'spiders or snakes': ['spider', 'spiders', 'snake', 'snakes', 'aranas', 'serpientes'],
  },
  foundation: {
    slab: ['concrete slab', 'losa', 'slab on grade'],
    'crawl space': ['crawl', 'crawlspace', 'espacio bajo el piso'],
    basement: ['cellar', 'sotano'],
    pier: ['piers', 'post', 'pilotes'],
  },
};

const WORDS: Readonly<Partial<Record<Field, readonly string[]>>> = {
  termites: TERMITE_FINDINGS,
  task: TASKS,
  reach: REACHES,
  baitLeft: BAIT_LEFT,
  monitor: MONITOR_CONDITIONS,
  housing: HOUSING_CONDITIONS,
  occupants: OCCUPANTS,
  foundation: FOUNDATIONS,
};

/** The words of the ledger that this field takes; empty for free text. */
export function wordsOf(field: Field): readonly string[] {
  return WORDS[field] ?? [];
}

function plain(cell: string): string {
  return cell.normalize('NFD').replace(/\p{M}/gu, '').trim().toLowerCase();
}

/** The word of the ledger that a cell means; undefined when nobody can tell. The mapping's own translations come first. */
export function findWord(
  field: Field,
  cell: string,
  own: Readonly<Record<string, string>> | undefined,
): string | undefined {
  const translated = translate(cell, own);
  const said = plain(translated);
  const words = wordsOf(field);
  if (words.includes(said)) return said;
  return words.find((word) => SYNONYMS[field]?.[word]?.includes(said));
}

/** A cell as the mapping translates it; itself where it does not. */
export function translate(cell: string, own: Readonly<Record<string, string>> | undefined): string {
  const key = cell.trim().toLowerCase();
  return own !== undefined && Object.hasOwn(own, key) ? (own[key] ?? cell) : cell;
}

const YES: ReadonlySet<string> = new Set(['yes', 'y', 'x', '1', 'true', 'done', 'si', 's', 'hecho']);
const NO: ReadonlySet<string> = new Set(['no', 'n', '0', 'false', '-', '', 'not done']);

export function findYesNo(cell: string): boolean | undefined {
  const said = plain(cell);
  if (YES.has(said)) return true;
  if (NO.has(said)) return false;
  const amount = Number(said);
  return Number.isFinite(amount) ? amount > 0 : undefined;
}
