import {
  type AnyFact,
  type Day,
  dayToText,
  type FactBodies,
  type FactKind,
  getMoment,
  tickClock,
  uuidV7,
} from '@sillwatch/trade';
import type { Chance } from './random.ts';
import { DEMO_FIRM } from './scenario.ts';

export interface Subject {
  readonly property: string | null;
  readonly station: string | null;
}

/** Writes facts as one device would: ids, sequence and clock go up with each. */
export interface Recorder {
  record<K extends FactKind>(kind: K, subject: Subject, at: string, by: string, body: FactBodies[K]): AnyFact;
  readonly facts: readonly AnyFact[];
}

export function createRecorder(chance: Chance, device: string): Recorder {
  const facts: AnyFact[] = [];
  let clock: string | undefined;
  return {
    facts,
    record: (kind, subject, at, by, body) => {
      const { epochMs } = getMoment(at);
      clock = tickClock(clock, epochMs);
      const fact: AnyFact = {
        id: uuidV7(epochMs, chance.bytes(10)),
        firm: DEMO_FIRM.id,
        ...subject,
        by,
        device,
        seq: facts.length + 1,
        at,
        clock,
        kind,
        body,
      };
      facts.push(fact);
      return fact;
    },
  };
}

/** RFC 3339 with the zone's offset on that day; `minutes` counts from local midnight. */
export function momentText(day: Day, minutes: number, timeZone: string): string {
  const hours = Math.floor(minutes / 60);
  const clock = `${String(hours).padStart(2, '0')}:${String(Math.floor(minutes % 60)).padStart(2, '0')}:00`;
  return Temporal.PlainDateTime.from(`${dayToText(day)}T${clock}`)
    .toZonedDateTime(timeZone)
    .toString({ timeZoneName: 'never' });
}
