import type { Face, Faces } from './faces.ts';
import { PLAIN } from './shape.ts';

/** How a text is set. Sizes in points. */
export interface TypeStyle {
  readonly face: 'regular' | 'strong';
  readonly size: number;
  /** from baseline to baseline */
  readonly leading: number;
  /** `#rrggbb` */
  readonly colour: string;
}

export interface Typesetter {
  widthOf(text: string, style: TypeStyle): number;
  /** Lines no wider than `width`, broken at spaces, and inside a word only when the word alone is wider. */
  linesOf(text: string, style: TypeStyle, width: number): readonly string[];
  /** Draws one line with its baseline at `y`. */
  draw(line: string, x: number, y: number, style: TypeStyle): void;
  /** SVG path data of the letters of a line that `draw` would set at 0, 0: for what stands under or round them. */
  outlinesOf(line: string, style: TypeStyle): readonly string[];
}

const MEASURED_AT = 1000;
/** Of a face, about 2 MB: enough for the words of a firm, too few to fill a server. */
const WORDS_KEPT = 20_000;

export function createTypesetter(pdf: PDFKit.PDFDocument, faces: Faces): Typesetter {
  function measure(run: Run): number {
    const { widthsByWord } = faces[run.face];
    const known = widthsByWord.get(run.text);
    if (known !== undefined) return known;
    pdf.font(run.face).fontSize(MEASURED_AT);
    const width = pdf.widthOfString(run.text);
    if (widthsByWord.size >= WORDS_KEPT) widthsByWord.clear();
    widthsByWord.set(run.text, width);
    return width;
  }

  function runsOf(text: string, face: 'regular' | 'strong'): readonly Run[] {
    return PLAIN.test(text) ? [{ face, text }] : splitRuns(text, face, faces);
  }

  const typesetter: Typesetter = {
    widthOf(text, style) {
      let width = 0;
      for (const run of runsOf(printable(text), style.face)) width += measure(run);
      return (width * style.size) / MEASURED_AT;
    },
    linesOf(text, style, width) {
      return text.split('\n').flatMap((part) => breakLine(part, style, width, typesetter));
    },
    draw(line, x, y, style) {
      let at = x;
      const runs = runsOf(printable(line), style.face);
      for (const [index, run] of runs.entries()) {
        pdf.font(run.face).fontSize(style.size).fillColor(style.colour);
        pdf.text(run.text, at, y, { lineBreak: false, baseline: 'alphabetic' });
        if (index < runs.length - 1) at += (measure(run) * style.size) / MEASURED_AT;
      }
    },
    outlinesOf(line, style) {
      let at = 0;
      return runsOf(printable(line), style.face).flatMap((run) => {
        const { font } = faces[run.face];
        const scale = style.size / font.unitsPerEm;
        const { glyphs, positions } = font.layout(run.text);
        return glyphs.flatMap((glyph, index) => {
          const position = positions[index];
          const x = at + (position?.xOffset ?? 0) * scale;
          at += (position?.xAdvance ?? glyph.advanceWidth) * scale;
          // Letters stand up from the baseline: y counts down on paper.
          const outline = glyph.path.transform(scale, 0, 0, -scale, x, 0).toSVG();
          return outline === '' ? [] : [outline];
        });
      });
    },
  };
  return typesetter;
}

interface Run {
  readonly face: Face;
  readonly text: string;
}

/** A letter that neither face has is written out as its code, so that nothing vanishes from a legal paper. */
function splitRuns(text: string, face: 'regular' | 'strong', faces: Faces): readonly Run[] {
  const runs: { face: Face; text: string }[] = [];
  for (const letter of text) {
    const code = letter.codePointAt(0) ?? 0;
    const has = (candidate: Face) => faces[candidate].codePoints.has(code);
    const [chosen, shown] = has(face)
      ? [face, letter]
      : has('fallback')
        ? (['fallback', letter] as const)
        : [face, `[U+${code.toString(16).toUpperCase().padStart(4, '0')}]`];
    const last = runs.at(-1);
    if (last?.face === chosen) last.text += shown;
    else runs.push({ face: chosen, text: shown });
  }
  return runs;
}

const UNPRINTABLE = /[\p{Cc}\p{Cs}\p{Noncharacter_Code_Point}]/gu;

/** One spelling for each letter; controls, unpaired surrogates and noncharacters become a replacement mark that prints. */
function printable(text: string): string {
  return PLAIN.test(text) ? text : text.normalize('NFC').replace(UNPRINTABLE, '\uFFFD');
}

function breakLine(text: string, style: TypeStyle, width: number, type: Typesetter): readonly string[] {
  const space = type.widthOf(' ', style);
  const lines: string[] = [];
  let line = '';
  let used = 0;
  for (const word of text.split(/[ \t]+/).filter((part) => part !== '')) {
    for (const [index, piece] of piecesOf(word, style, width, type).entries()) {
      const pieceWidth = type.widthOf(piece, style);
      const fits = index === 0 && line !== '' && used + space + pieceWidth <= width;
      if (line !== '' && !fits) lines.push(line);
      line = fits ? `${line} ${piece}` : piece;
      used = fits ? used + space + pieceWidth : pieceWidth;
    }
  }
  lines.push(line);
  return lines;
}

/** A word too wide for its line: broken after a hyphen where it has one, otherwise between letters. */
function piecesOf(word: string, style: TypeStyle, width: number, type: Typesetter): readonly string[] {
  if (type.widthOf(word, style) <= width) return [word];
  const pieces: string[] = [];
  let piece = '';
  for (const part of word.split(/(?<=-)/).flatMap((text) => lettersIfWide(text, style, width, type))) {
    if (piece !== '' && type.widthOf(piece + part, style) > width) {
      pieces.push(piece);
      piece = '';
    }
    piece += part;
  }
  pieces.push(piece);
  return pieces;
}

function lettersIfWide(part: string, style: TypeStyle, width: number, type: Typesetter): readonly string[] {
  return type.widthOf(part, style) <= width ? [part] : [...part];
}
