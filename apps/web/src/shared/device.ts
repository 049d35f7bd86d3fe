import { tickClock, uuidV7 } from '@sillwatch/trade';

/** This browser as a recording device: its id, its count of facts and its clock survive a reload. */
const DEVICE = 'sillwatch device';
const SEQ = 'sillwatch seq';
const CLOCK = 'sillwatch clock';

export function newId(): string {
  return uuidV7(Date.now(), crypto.getRandomValues(new Uint8Array(10)));
}

export interface Stamp {
  readonly id: string;
  readonly device: string;
  readonly seq: number;
  readonly at: string;
  readonly clock: string;
}

/** The next fact's id, count and clock; taken once, never given out again. */
export function takeStamp(): Stamp {
  const device = localStorage.getItem(DEVICE) ?? newId();
  const seq = Number(localStorage.getItem(SEQ) ?? '0') + 1;
  const clock = tickClock(localStorage.getItem(CLOCK) ?? undefined, Date.now());
  localStorage.setItem(DEVICE, device);
  localStorage.setItem(SEQ, String(seq));
  localStorage.setItem(CLOCK, clock);
  return { id: newId(), device, seq, at: localTimeText(new Date()), clock };
}

/** One visit = one person at one property on one day: the same id for all that is recorded on it here. */
export function visitOf(property: string, person: string): string {
  const key = `sillwatch visit ${property} ${person} ${localTimeText(new Date()).slice(0, 10)}`;
  const known = sessionStorage.getItem(key);
  if (known !== null) return known;
  const visit = newId();
  sessionStorage.setItem(key, visit);
  return visit;
}

/** RFC 3339 with this device's own offset. */
export function localTimeText(now: Date): string {
  const offset = -now.getTimezoneOffset();
  const two = (n: number) => String(Math.trunc(Math.abs(n))).padStart(2, '0');
  const local = new Date(now.getTime() + offset * 60_000).toISOString().slice(0, 19);
  return `${local}${offset < 0 ? '-' : '+'}${two(offset / 60)}:${two(offset % 60)}`;
}
