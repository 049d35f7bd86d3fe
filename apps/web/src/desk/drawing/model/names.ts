import {
  type DiagramWords,
  findThing,
  formatLength,
  type LengthUnit,
  listThings,
  parseLength,
  type Site,
  type Thing,
} from '@sillwatch/ring';
import type { Words } from '../../../words/index.ts';
import type { Brush } from './brush.ts';

/** A length as a tape says it: to the eighth of an inch, or to the centimetre. */
export function lengthText(lengthMetres: number, unit: LengthUnit): string {
  return unit === 'ft'
    ? formatLength(lengthMetres, { style: 'feet and inches', partsOfInch: 8 })
    : formatLength(lengthMetres, { style: 'metres', decimals: 2 });
}

/**
 * A number of the label, which nobody may round: in the unit of the drawing where that says it exactly, else in the unit that does,
 * with the nearest mark on the tape behind it.
 */
export function labelLengthText(lengthMetres: number, unit: LengthUnit): string {
  const isExact = (text: string): boolean => {
    const read = parseLength(text);
    return read.ok && Math.abs(read.metres - lengthMetres) < 1e-9;
  };
  const own = lengthText(lengthMetres, unit);
  const other = exactLengthText(lengthMetres, unit === 'ft' ? 'm' : 'ft');
  return isExact(own) || !isExact(other) ? own : `${other} (${own})`;
}

/** What a field holds: read back it is the same length. */
export function exactLengthText(lengthMetres: number, unit: LengthUnit): string {
  return unit === 'ft'
    ? formatLength(lengthMetres, { style: 'feet and inches', partsOfInch: 16 })
    : formatLength(lengthMetres, { style: 'metres', decimals: 3 });
}

export function brushName(brush: Brush, w: Words, d: DiagramWords): string {
  const words = w.desk.drawing;
  switch (brush) {
    case 'structure':
      return words.structure;
    case 'courtyard':
      return words.courtyard;
    case 'station':
      return d.station.toLocaleLowerCase(w.locale);
    case 'treated_soil':
      return d.treatedSoil;
    case 'fence':
    case 'gate':
    case 'well':
    case 'drain':
    case 'parking':
      return d[brush];
    case 'utility_line':
      return d.utilityLine;
    case 'drive':
    case 'walk':
    case 'patio':
    case 'pool':
    case 'other_hard_surface':
      return d.surfaces[brush];
    case 'planting':
    case 'wood_to_soil':
      return d.plantings[brush];
    default:
      return d.concerns[brush];
  }
}

/** What a thing is called in lists and sentences; numbered where several are called alike. */
export function thingName(site: Site, thing: Thing, w: Words, d: DiagramWords): string {
  const own = plainName(thing, w, d);
  if (thing.layer === 'stations') return own;
  const alike = listThings(site).filter((other) => plainName(other, w, d) === own);
  if (alike.length < 2) return own;
  return w.desk.drawing.numbered(own, alike.findIndex(({ value }) => value.id === thing.value.id) + 1);
}

export function nameOfId(site: Site, id: string, w: Words, d: DiagramWords): string {
  const thing = findThing(site, id);
  return thing === undefined ? id : thingName(site, thing, w, d);
}

function plainName(thing: Thing, w: Words, d: DiagramWords): string {
  switch (thing.layer) {
    case 'structures':
      return thing.value.name === '' ? w.desk.drawing.structure : thing.value.name;
    case 'stations':
      return w.desk.drawing.stationNamed(thing.value.number);
    case 'hardSurfaces':
    case 'plantings':
    case 'concerns':
    case 'keepOuts':
      return brushName(thing.value.kind, w, d);
    case 'fences':
      return d.fence;
    case 'gates':
      return d.gate;
    case 'parking':
      return d.parking;
  }
}
