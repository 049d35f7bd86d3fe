/** Where nothing has been measured: stations at even steps round a plain house, clockwise from its south-west corner. */
export function schematicRing(numbers: readonly number[]): {
  readonly outline: readonly (readonly [number, number])[];
  readonly positions: readonly (readonly [number, number])[];
} {
  const step = 3;
  const round = Math.max(4, numbers.length) * step;
  const wide = round * 0.3;
  const deep = round * 0.2;
  const positions = numbers.map((_, index) => alongBox(((index + 0.5) / numbers.length) * round, wide, deep));
  const gap = Math.min(1.6, deep / 4);
  return {
    outline: [
      [gap, gap],
      [wide - gap, gap],
      [wide - gap, deep - gap],
      [gap, deep - gap],
    ],
    positions,
  };
}

function alongBox(distance: number, wide: number, deep: number): readonly [number, number] {
  if (distance <= deep) return [0, distance];
  if (distance <= deep + wide) return [distance - deep, deep];
  if (distance <= 2 * deep + wide) return [wide, deep - (distance - deep - wide)];
  return [wide - (distance - 2 * deep - wide), 0];
}
