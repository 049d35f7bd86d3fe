import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { create, type Font } from 'fontkit';
import { layoutByPairs } from './shape.ts';

/** Inter, as on the screens; DejaVu Sans for the letters that Inter lacks. Both are embedded, so print never depends on a machine. */
export type Face = 'regular' | 'strong' | 'fallback';

export interface LoadedFace {
  /** Parsed once a process and shared by all papers: parsing anew was most of the time a paper took. */
  readonly font: Font;
  readonly codePoints: ReadonlySet<number>;
  /** Widths at 1000 to the em of words met before: papers of a firm say the same words again and again. */
  readonly widthsByWord: Map<string, number>;
}
export type Faces = Readonly<Record<Face, LoadedFace>>;

let loaded: Faces | undefined;

/** Reads the font files once a process. Throws when the packages that carry them are not installed. */
export function getFaces(): Faces {
  loaded ??= {
    regular: byPairs(loadFace('@expo-google-fonts/inter/400Regular/Inter_400Regular.ttf')),
    strong: byPairs(loadFace('@expo-google-fonts/inter/600SemiBold/Inter_600SemiBold.ttf')),
    fallback: loadFace('dejavu-fonts-ttf/ttf/DejaVuSans.ttf'),
  };
  return loaded;
}

function loadFace(file: string): LoadedFace {
  const font = create(readFileSync(fileURLToPath(import.meta.resolve(file))));
  if (!('characterSet' in font)) throw new Error(`${file} is a collection of fonts, not one font`);
  return { font, codePoints: new Set(font.characterSet), widthsByWord: new Map() };
}

function byPairs(face: LoadedFace): LoadedFace {
  face.font.layout = layoutByPairs(face.font);
  return face;
}
