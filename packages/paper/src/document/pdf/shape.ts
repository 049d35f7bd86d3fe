import type { Font, Glyph, GlyphPosition } from 'fontkit';

/** Letters that both Inter faces are known to have, and that never join or change shape beside each other. Not the soft hyphen, which is not drawn. */
export const PLAIN = /^[\x20-\x7e\u00a0-\u00ac\u00ae-\u00ff\u2013\u2014\u2018\u2019\u201c\u201d\u2026]*$/;

/** Contextual alternates would draw `->` as an arrow and `2x4` with a multiplication sign: a record says what was typed. */
const AS_TYPED = { calt: false };

/**
 * The font's own `layout`, with runs of plain letters set from pairs met before: a record has thousands of ids and hours that
 * stand in it once, and setting each from the font's tables was most of its time. Two letters stand as far apart as the tables
 * set the two alone; what Inter changes of that beside a third letter (fewer than one place in a hundred) is passed over.
 */
export function layoutByPairs(font: Font): Font['layout'] {
  const layout = font.layout.bind(font);
  const kernByPair = new Map<string, number>();
  const glyphByLetter = new Map<string, Glyph>();

  function glyphOf(letter: string): Glyph {
    const known = glyphByLetter.get(letter);
    if (known !== undefined) return known;
    const glyph = font.glyphForCodePoint(letter.codePointAt(0) ?? 0);
    glyphByLetter.set(letter, glyph);
    return glyph;
  }

  /** What the second letter takes from, or adds to, the advance of the first: font units. */
  function kernOf(pair: string): number {
    const known = kernByPair.get(pair);
    if (known !== undefined) return known;
    const { glyphs, positions } = layout(pair, AS_TYPED);
    const kern = (positions[0]?.xAdvance ?? 0) - (glyphs[0]?.advanceWidth ?? 0);
    kernByPair.set(pair, kern);
    return kern;
  }

  return (text, features, script, language, direction) => {
    if (features !== undefined || !PLAIN.test(text))
      return layout(text, features ?? AS_TYPED, script, language, direction);
    const run = layout('', AS_TYPED);
    run.glyphs = Array.from(text, glyphOf);
    run.positions = run.glyphs.map((glyph, index): GlyphPosition => {
      const pair = text.slice(index, index + 2);
      const kern = pair.length < 2 ? 0 : kernOf(pair);
      return { xAdvance: glyph.advanceWidth + kern, yAdvance: 0, xOffset: 0, yOffset: 0 };
    });
    return run;
  };
}
