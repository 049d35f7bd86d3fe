import type { TypeStyle } from './type.ts';

/** All measures in points, 72 to the inch. */
export const MARGIN = { left: 60, right: 60, top: 66, bottom: 72 } as const;

export const COLOUR = {
  ink: '#1c2421',
  soft: '#55615c',
  line: '#ccd4d0',
  deep: '#17483b',
  wash: '#f3f6f4',
  warn: '#8a4b00',
} as const;

function style(face: TypeStyle['face'], size: number, leading: number, colour: string): TypeStyle {
  return { face, size, leading, colour };
}

export const TYPE = {
  firm: style('strong', 12, 16, COLOUR.deep),
  firmLine: style('regular', 8.5, 12, COLOUR.soft),
  title: style('strong', 23, 28, COLOUR.ink),
  subtitle: style('regular', 11, 16, COLOUR.soft),
  banner: style('strong', 9.5, 13.5, COLOUR.warn),
  bannerText: style('regular', 9, 13, COLOUR.ink),
  heading2: style('strong', 13.5, 18, COLOUR.deep),
  heading3: style('strong', 10.5, 15, COLOUR.ink),
  lead: style('regular', 11.5, 17, COLOUR.ink),
  body: style('regular', 9.5, 14, COLOUR.ink),
  small: style('regular', 8.5, 12.5, COLOUR.soft),
  key: style('regular', 9.5, 14, COLOUR.soft),
  label: style('strong', 9.5, 14, COLOUR.ink),
  count: style('strong', 21, 25, COLOUR.ink),
  countLabel: style('regular', 8.5, 11.5, COLOUR.soft),
  caption: style('regular', 8.5, 12.5, COLOUR.soft),
  columnHeader: style('strong', 8.5, 12, COLOUR.ink),
  cell: style('regular', 8.75, 12.5, COLOUR.ink),
  cellStrong: style('strong', 8.75, 12.5, COLOUR.ink),
  cellSoft: style('regular', 8.75, 12.5, COLOUR.soft),
  foot: style('regular', 7.75, 11, COLOUR.soft),
  footStrong: style('strong', 7.75, 11, COLOUR.warn),
} as const satisfies Record<string, TypeStyle>;
