import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { create, type Font } from 'fontkit';
import { describe, expect, test } from 'vitest';
import { layoutByPairs, PLAIN } from '../../src/document/pdf/shape.ts';

function loadFont(file: string): Font {
  const font = create(readFileSync(fileURLToPath(import.meta.resolve(file))));
  if (!('characterSet' in font)) throw new Error(`${file} is a collection`);
  return font;
}

/** What pdfkit draws from: which glyphs, and how far apart. */
function seenOf({ glyphs, positions }: ReturnType<Font['layout']>) {
  return positions.map((position, index) => ({ ...position, glyph: glyphs[index]?.id }));
}

const LETTERS = Array.from({ length: 0x2027 }, (_, code) => String.fromCodePoint(code)).filter((letter) =>
  PLAIN.test(letter),
);
const DIGITS = [...'0123456789abcdef-:'];

// Source: the fonts' own cmap, GSUB and GPOS tables (ISO/IEC 14496-22) as fontkit applies them, contextual alternates left out.
describe.each(['400Regular/Inter_400Regular.ttf', '600SemiBold/Inter_600SemiBold.ttf'])(
  'runs of %s',
  (file) => {
    const font = loadFont(`@expo-google-fonts/inter/${file}`);
    const reference = loadFont(`@expo-google-fonts/inter/${file}`);
    const layout = layoutByPairs(font);
    const byTables = (text: string) => seenOf(reference.layout(text, { calt: false }));
    const letter = fc.constantFrom(...LETTERS);

    test('every letter, and two side by side, as the tables set them', () => {
      expect(LETTERS.length).toBe(197);
      for (const one of LETTERS) expect(seenOf(layout(one)), one).toEqual(byTables(one));
      for (const one of DIGITS)
        for (const other of DIGITS)
          expect(seenOf(layout(one + other)), one + other).toEqual(byTables(one + other));
      fc.assert(
        fc.property(letter, letter, (one, other) => {
          expect(seenOf(layout(one + other))).toEqual(byTables(one + other));
        }),
        { numRuns: 1000, examples: [...'AVTo', 'LY'].map((one): [string, string] => [one, 'A']) },
      );
    });

    test('longer runs: the same glyphs, no letter moved by more than the finest kerning', () => {
      fc.assert(
        fc.property(fc.array(letter, { maxLength: 12 }), (letters) => {
          const text = letters.join('');
          const ours = seenOf(layout(text));
          const theirs = byTables(text);
          expect(ours.map(({ glyph }) => glyph)).toEqual(theirs.map(({ glyph }) => glyph));
          for (const [index, { xAdvance }] of ours.entries())
            expect(Math.abs(xAdvance - (theirs[index]?.xAdvance ?? 0)) / font.unitsPerEm).toBeLessThan(0.2);
        }),
        { numRuns: 300 },
      );
    });

    test('what is not plain, or asks for features, goes to the tables', () => {
      for (const text of ['e\u0301', 'soft\u00adhyphen', 'Łódź', '1\u20442', ''])
        expect(seenOf(layout(text))).toEqual(byTables(text));
      expect(seenOf(layout('1/2', ['frac']))).toEqual(seenOf(reference.layout('1/2', ['frac'])));
    });

    test('an arrow typed as two letters stays two letters', () => {
      expect(layout('a->b').glyphs).toHaveLength(4);
      expect(seenOf(layout('->')).map(({ glyph }) => glyph)).toEqual([
        ...seenOf(layout('-')).map(({ glyph }) => glyph),
        ...seenOf(layout('>')).map(({ glyph }) => glyph),
      ]);
    });
  },
);
