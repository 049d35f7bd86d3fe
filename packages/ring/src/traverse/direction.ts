/**
 * Where a wall run goes. Azimuths are degrees clockwise from north, 0 up to but not 360.
 * A turn is measured from the way the last run went: right is positive.
 */
export type Direction =
  | { readonly kind: 'azimuth'; readonly degrees: number }
  | { readonly kind: 'turn'; readonly degrees: number };

/** English and Spanish words side by side: no word of the one means another way in the other. */
const COMPASS_POINTS = {
  north: 0,
  northeast: 45,
  east: 90,
  southeast: 135,
  south: 180,
  southwest: 225,
  west: 270,
  northwest: 315,
  n: 0,
  ne: 45,
  e: 90,
  se: 135,
  s: 180,
  sw: 225,
  w: 270,
  nw: 315,
  norte: 0,
  noreste: 45,
  nordeste: 45,
  este: 90,
  sureste: 135,
  sudeste: 135,
  sur: 180,
  suroeste: 225,
  sudoeste: 225,
  oeste: 270,
  noroeste: 315,
  so: 225,
  o: 270,
  no: 315,
} as const;

/** With decimals behind a point or a comma. */
const NUMBER = String.raw`(\d+(?:[.,]\d+)?)`;
const ANGLE = String.raw`${NUMBER}\s*(?:°|deg(?:rees)?\b|grados?\b)`;
const BEARING = String.raw`([ns])\.?\s*${NUMBER}\s*(?:°|deg(?:rees)?\b|grados?\b)?\s*(?:${NUMBER}\s*['′’]\s*)?(?:${NUMBER}\s*(?:''|["″”])\s*)?([ewo])\b\.?`;

interface Form {
  readonly pattern: string;
  readonly read: (groups: readonly (string | undefined)[]) => Direction | undefined;
}

/** Tried in this order, each at the start and at the end of a run's text. */
const FORMS: readonly Form[] = [
  { pattern: BEARING, read: readBearing },
  {
    pattern: String.raw`az(?:imuth|imut)?\.?\s*${NUMBER}\s*(?:°|deg(?:rees)?\b|grados?\b)?(?![\d.,])`,
    read: ([degrees]) => azimuth(numberOf(degrees)),
  },
  {
    pattern: String.raw`(?:turn\s+|(?:girar?\s+|gire\s+)?a\s+la\s+)?(left|right|izquierda|derecha)\b(?:\s+${ANGLE})?`,
    read: ([side, degrees]) => turn(side?.toLowerCase(), degrees === undefined ? 90 : numberOf(degrees)),
  },
  {
    pattern: String.raw`(?:straight(?:\s+on)?|(?:todo\s+)?recto)\b`,
    read: () => ({ kind: 'turn', degrees: 0 }),
  },
  {
    pattern: String.raw`(?:hacia\s+el\s+|al\s+)?(north[\s-]?east|north[\s-]?west|south[\s-]?east|south[\s-]?west|north|east|south|west|nor(?:d?este|oeste|te)|su(?:r|d)(?:este|oeste)|sur|este|oeste|ne|nw|se|sw|no|so|[nesow])\b`,
    read: ([word]) => readCompassPoint(word),
  },
];

const COMPILED = FORMS.map((form) => ({
  ...form,
  atStart: new RegExp(`^${form.pattern}[:\\s]*`, 'i'),
  atEnd: new RegExp(`(?<![\\w.])${form.pattern}\\s*$`, 'i'),
}));

/** The direction that stands before or after the length, and the text that is left: undefined when there is none. */
export function takeDirection(
  text: string,
): { readonly direction: Direction; readonly rest: string } | undefined {
  for (const { atStart, atEnd, read } of COMPILED) {
    for (const pattern of [atStart, atEnd]) {
      const match = pattern.exec(text);
      if (match === null) continue;
      const direction = read(match.slice(1));
      if (direction !== undefined) return { direction, rest: text.replace(match[0], ' ').trim() };
    }
  }
  return undefined;
}

function numberOf(text: string | undefined): number {
  return Number(text?.replace(',', '.'));
}

function azimuth(degrees: number): Direction | undefined {
  return degrees <= 360 ? { kind: 'azimuth', degrees: degrees % 360 } : undefined;
}

function turn(side: string | undefined, degrees: number): Direction | undefined {
  if (degrees >= 180) return undefined;
  return { kind: 'turn', degrees: side === 'left' || side === 'izquierda' ? -degrees : degrees };
}

/** N 45° 30' 15" E: from north or south towards east or west, at most 90 degrees. */
function readBearing(groups: readonly (string | undefined)[]): Direction | undefined {
  const [from, degreeText, minuteText, secondText, towards] = groups;
  const minutes = numberOf(minuteText ?? '0');
  const seconds = numberOf(secondText ?? '0');
  const degrees = numberOf(degreeText) + minutes / 60 + seconds / 3600;
  if (degrees > 90 || minutes >= 60 || seconds >= 60) return undefined;
  const isNorth = from?.toLowerCase() === 'n';
  const isEast = towards?.toLowerCase() === 'e';
  if (isNorth) return azimuth(isEast ? degrees : 360 - degrees);
  return azimuth(isEast ? 180 - degrees : 180 + degrees);
}

function readCompassPoint(word: string | undefined): Direction | undefined {
  const plain = (word ?? '').toLowerCase().replace(/[\s-]/g, '');
  const found = Object.entries(COMPASS_POINTS).find(([name]) => name === plain);
  return found === undefined ? undefined : { kind: 'azimuth', degrees: found[1] };
}

/** East and north of one metre at this azimuth; the compass points come out exact, so that square houses stay square. */
export function stepAt(degrees: number): { readonly east: number; readonly north: number } {
  const turned = ((degrees % 360) + 360) % 360;
  if (turned === 0) return { east: 0, north: 1 };
  if (turned === 90) return { east: 1, north: 0 };
  if (turned === 180) return { east: 0, north: -1 };
  if (turned === 270) return { east: -1, north: 0 };
  const radians = (turned * Math.PI) / 180;
  return { east: Math.sin(radians), north: Math.cos(radians) };
}

/** 0 up to 360, clockwise from north; 0 for no length at all. */
export function azimuthOf(east: number, north: number): number {
  const degrees = (Math.atan2(east, north) * 180) / Math.PI;
  return degrees < 0 ? degrees + 360 : degrees;
}
