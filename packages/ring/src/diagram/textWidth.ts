/** Widths in ems, rounded up from the metrics of Helvetica, to which the usual sans-serif faces keep; from memory. */
const CLASSES: readonly (readonly [RegExp, number])[] = [
  [/[ijl'|]/, 0.25],
  [/[ .,:;!fItr()\-/[\]]/, 0.36],
  [/[mMW@%]/, 0.95],
  [/[wCGHNOQRUDABEFKPSVXYTZ&]/, 0.76],
  [/[a-zJL0-9"$#+=<>?*_]/, 0.6],
];
const WIDEST = 1.05;

/** An upper estimate of the width of a line of text, in the unit of `size`. */
export function textWidth(text: string, size: number): number {
  let ems = 0;
  for (const character of text) ems += CLASSES.find(([pattern]) => pattern.test(character))?.[1] ?? WIDEST;
  return ems * size;
}
