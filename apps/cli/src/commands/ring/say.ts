import { formatLength, type LengthUnit, type Point } from '@sillwatch/ring';

export type WriteLength = (lengthMetres: number) => string;

export function lengthWriter(unit: LengthUnit): WriteLength {
  return (lengthMetres) =>
    formatLength(
      lengthMetres,
      unit === 'ft' ? { style: 'feet and inches', partsOfInch: 1 } : { style: 'metres' },
    );
}

export function place({ x, y }: Point, write: WriteLength): string {
  const east = `${write(Math.abs(x))} ${x < 0 ? 'west' : 'east'}`;
  return `${east}, ${write(Math.abs(y))} ${y < 0 ? 'south' : 'north'} of the origin`;
}

export const words = (code: string): string => code.replaceAll('_', ' ');
