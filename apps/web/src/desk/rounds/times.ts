/** The time of day that an RFC 3339 time says, on the clock it was written for: `09:40`. */
export function timeOf(moment: string): string {
  return moment.slice(11, 16);
}
