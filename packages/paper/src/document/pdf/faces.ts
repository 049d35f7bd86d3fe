import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { create } from 'fontkit';

/** Inter, as on the screens; DejaVu Sans for the letters that Inter lacks. Both are embedded, so print never depends on a machine. */
export type Face = 'regular' | 'strong' | 'fallback';

export interface LoadedFace {
  readonly bytes: Buffer;
  readonly codePoints: ReadonlySet<number>;
}
export type Faces = Readonly<Record<Face, LoadedFace>>;

let loaded: Faces | undefined;

/** Reads the font files once a process. Throws when the packages that carry them are not installed. */
export function getFaces(): Faces {
  loaded ??= {
    regular: loadFace('@expo-google-fonts/inter/400Regular/Inter_400Regular.ttf'),
    strong: loadFace('@expo-google-fonts/inter/600SemiBold/Inter_600SemiBold.ttf'),
    fallback: loadFace('dejavu-fonts-ttf/ttf/DejaVuSans.ttf'),
  };
  return loaded;
}

function loadFace(file: string): LoadedFace {
  const bytes = readFileSync(fileURLToPath(import.meta.resolve(file)));
  const font = create(bytes);
  if (!('characterSet' in font)) throw new Error(`${file} is a collection of fonts, not one font`);
  return { bytes, codePoints: new Set(font.characterSet) };
}
