/**
 * Hybrid logical clock: as text, 15 digits of milliseconds, a dot, 5 digits of count, so that it sorts as text.
 * Source: Kulkarni, Demirbas, Madappa, Avva, Leone (2014), Logical Physical Clocks, algorithm of section 3.
 */
const MOST_COUNT = 99_999;

export interface ClockParts {
  readonly ms: number;
  readonly count: number;
}

/** Undefined when the text is no clock. */
export function findClock(text: string): ClockParts | undefined {
  if (!/^\d{15}\.\d{5}$/.test(text)) return undefined;
  return { ms: Number(text.slice(0, 15)), count: Number(text.slice(16)) };
}

export function clockToText({ ms, count }: ClockParts): string {
  return `${String(ms).padStart(15, '0')}.${String(count).padStart(5, '0')}`;
}

/** The clock of the next fact of a device: never behind its last one, whatever the wall clock says. */
export function tickClock(last: string | undefined, nowMs: number): string {
  return receiveClock(last, undefined, nowMs);
}

/** As tickClock, after having seen another device's clock: what comes next sorts after both. */
export function receiveClock(last: string | undefined, seen: string | undefined, nowMs: number): string {
  const now = { ms: Math.max(0, Math.trunc(nowMs)), count: -1 };
  const parts = [last, seen].map((text) => (text === undefined ? undefined : findClock(text)));
  const latest = parts.reduce<ClockParts>(
    (a, b) => (b !== undefined && (b.ms > a.ms || (b.ms === a.ms && b.count > a.count)) ? b : a),
    now,
  );
  return latest.count < MOST_COUNT
    ? clockToText({ ms: latest.ms, count: latest.count + 1 })
    : clockToText({ ms: latest.ms + 1, count: 0 });
}
