import type { ConcernKind, Foundation, HardSurfaceKind, PlantingKind } from '../site/model.ts';
import type { StationMark } from './marks.ts';

/** Every word on the drawing, so that another language is another table. */
export interface DiagramWords {
  readonly unnamed: string;
  readonly station: string;
  readonly marks: Readonly<Record<StationMark, string>>;
  readonly surfaces: Readonly<Record<HardSurfaceKind, string>>;
  readonly plantings: Readonly<Record<PlantingKind, string>>;
  readonly concerns: Readonly<Record<ConcernKind, string>>;
  readonly foundations: Readonly<Record<Foundation, string>>;
  readonly utilityLine: string;
  readonly well: string;
  readonly drain: string;
  readonly treatedSoil: string;
  readonly fence: string;
  readonly gate: string;
  readonly parking: string;
  readonly unguarded: string;
  readonly walk: string;
  readonly concern: string;
  readonly north: string;
  readonly tooLarge: (scale: number) => string;
  readonly summary: (stations: number, structures: number, states: string) => string;
}

export const ENGLISH: DiagramWords = {
  unnamed: 'Site diagram',
  station: 'Station',
  marks: {
    monitoring: 'monitoring',
    hit: 'hit',
    feeding: 'feeding: leave it',
    baited: 'baited',
    clear: 'clear',
    'carried over': 'service carried over',
    missed: 'not seen last time',
    removed: 'taken out',
  },
  surfaces: {
    drive: 'drive',
    walk: 'walk',
    patio: 'patio',
    pool: 'pool',
    other_hard_surface: 'hard surface',
  },
  plantings: { planting: 'planting', wood_to_soil: 'wood to soil' },
  concerns: {
    moisture: 'moisture',
    old_damage: 'old damage',
    mud_tube: 'mud tube',
    stump: 'stump',
    woodpile: 'woodpile',
    other_concern: 'concern',
  },
  foundations: {
    slab: 'slab',
    'crawl space': 'crawl space',
    pier: 'piers',
    basement: 'basement',
    unknown: 'foundation not known',
  },
  utilityLine: 'utility line: locate before digging',
  well: 'well',
  drain: 'drain',
  treatedSoil: 'treated soil',
  fence: 'fence',
  gate: 'gate',
  parking: 'truck',
  unguarded: 'wall not guarded',
  walk: 'walk',
  concern: 'point of concern',
  north: 'N',
  tooLarge: (scale) => `Not all of the site fits on this sheet: print at 1:${scale}.`,
  summary: (stations, structures, states) =>
    `${stations} ${stations === 1 ? 'station' : 'stations'} round ${structures} ${structures === 1 ? 'structure' : 'structures'}${states === '' ? '' : `: ${states}`}.`,
};

export const SPANISH: DiagramWords = {
  unnamed: 'Plano del lugar',
  station: 'Estación',
  marks: {
    monitoring: 'en vigilancia',
    hit: 'con termitas',
    feeding: 'comiendo cebo: no tocar',
    baited: 'con cebo',
    clear: 'libre',
    'carried over': 'servicio pendiente',
    missed: 'no vista la última vez',
    removed: 'retirada',
  },
  surfaces: {
    drive: 'entrada de autos',
    walk: 'acera',
    patio: 'patio',
    pool: 'piscina',
    other_hard_surface: 'superficie dura',
  },
  plantings: { planting: 'plantas', wood_to_soil: 'madera en contacto con la tierra' },
  concerns: {
    moisture: 'humedad',
    old_damage: 'daño antiguo',
    mud_tube: 'tubo de barro',
    stump: 'tocón',
    woodpile: 'pila de leña',
    other_concern: 'punto de atención',
  },
  foundations: {
    slab: 'losa',
    'crawl space': 'espacio bajo el piso',
    pier: 'pilares',
    basement: 'sótano',
    unknown: 'cimiento desconocido',
  },
  utilityLine: 'línea de servicio: ubicar antes de cavar',
  well: 'pozo',
  drain: 'desagüe',
  treatedSoil: 'suelo tratado',
  fence: 'cerca',
  gate: 'portón',
  parking: 'camión',
  unguarded: 'pared sin protección',
  walk: 'recorrido',
  concern: 'punto de atención',
  north: 'N',
  tooLarge: (scale) => `El lugar no cabe entero en esta hoja: imprímalo a 1:${scale}.`,
  summary: (stations, structures, states) =>
    `${stations} ${stations === 1 ? 'estación' : 'estaciones'} alrededor de ${structures} ${structures === 1 ? 'estructura' : 'estructuras'}${states === '' ? '' : `: ${states}`}.`,
};
