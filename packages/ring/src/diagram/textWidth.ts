/** Widths in ems, above those of Inter (held in packages/paper) and, from memory, of Helvetica and its kin. */
const CLASSES: readonly (readonly [RegExp, number])[] = [
  [/[ijl'|]/, 0.32],
  [/[ .,:;!fItr()\-/[\]]/, 0.42],
  [/[mMW@%]/, 1.06],
  [/[wCGHNOQRUDABEFKPSVXYTZ&]/, 0.79],
  [/[a-zJL0-9"$#+=<>?*_]/, 0.65],
];
const WIDEST = 1.1;

/** An upper estimate of the width of a line of text, in the unit of `size`. */
export function textWidth(text: string, size: number): number {
  let ems = 0;
  for (const character of text) ems += CLASSES.find(([pattern]) => pattern.test(character))?.[1] ?? WIDEST;
  return ems * size;
}
