import type { soil as english } from './en.soil.ts';
import { formatIn } from './format.ts';

const { trim } = formatIn('es-US');

/** Words of the page on soil and season, in Spanish. */
export const soil: typeof english = {
  soil: {
    lead: 'Apagado hasta que una sucursal anote sus propios números. Dicen cuándo el suelo está bastante caliente para que las termitas busquen alimento.',
    caution:
      'Es solo una preferencia al planear entre días ya permitidos: no omite ninguna visita pendiente, no saca ninguna de su plazo y no es motivo para mirar menos. Puede haber termitas cualquier día.',
    off: 'Apagado aquí: al planear, todos los días de un plazo valen lo mismo.',
    course: (depth) => `El año a ${depth}`,
    threshold: (degrees) => `Cuenta desde ${degrees}, según el criterio de la sucursal.`,
    plot: 'Temperatura del suelo durante el año',
    from: (source) => `Fuente: ${source}. Línea delgada: la superficie. Suelo uniforme, sin nieve ni lluvia.`,
    degrees: (celsius) => `${trim(celsius * 1.8 + 32)} °F (${trim(celsius)} °C)`,
    degreesShort: (celsius) => `${trim(celsius * 1.8 + 32)}°`,
    depth: (metres) => `${trim(metres / 0.0254)} pulgadas (${trim(100 * metres)} cm) de profundidad`,
    heads: ['Mes', 'A la mitad', 'Bastante caliente'],
    yes: 'sí',
    no: 'no',
    enter: 'Anotar números',
    change: 'Cambiar los números',
    mean: 'Media del año en la superficie, °F',
    meanHint: 'Más o menos la temperatura media del aire en el año',
    swing: 'La mitad de la diferencia entre el mes más caliente y el más frío, °F',
    swingHint: 'Medias del mes, de su estación meteorológica',
    coldest: 'Día más frío',
    coldestHint: 'MM-DD, por ejemplo 01-20',
    coldestWrong: 'Escríbalo como MM-DD, por ejemplo 01-20.',
    depthLabel: 'Profundidad, pulgadas',
    diffusivity: 'Difusividad térmica del suelo, mm²/s',
    diffusivityHint: 'De un estudio o una tabla de suelos; mojado y seco son muy distintos',
    forage: 'Las termitas buscan alimento desde, °F',
    forageHint: 'Su propio criterio: la herramienta no trae ningún número',
    source: 'De dónde son los números',
    sourceHint: 'Estación meteorológica, estudio, tabla',
    turnOff: 'Apagarlo',
  },
};
