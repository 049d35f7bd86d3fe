/** Splits a list so that one statement stays well under both databases' limits on bound values (32,766 and 65,535). */
export function* chunksOf<T>(list: readonly T[], size: number): Generator<readonly T[]> {
  for (let start = 0; start < list.length; start += size) yield list.slice(start, start + size);
}
