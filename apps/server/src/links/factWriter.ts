import { type AnyFact, clockToText, type Fact, type FactHead } from '@sillwatch/trade';
import type { Person, Services } from '../http/context.ts';

/** What the server itself records on a person's behalf. */
export interface FactWriter {
  /** Appends one fact, dated now on the clock of `timeZone`. Throws when the ledger refuses it: what we write we have checked. */
  write<K extends Fact['kind']>(
    person: Pick<Person, 'id' | 'firm'>,
    subject: { readonly property: string | null; readonly timeZone: string },
    kind: K,
    body: Extract<Fact, { readonly kind: K }>['body'],
  ): Promise<AnyFact>;
}

/** A device of its own for each start of a server: its sequence then counts from 1 without a store. */
export function createFactWriter({ ledger, deps }: Pick<Services, 'ledger' | 'deps'>): FactWriter {
  const device = `server-${deps.newId()}`;
  let seq = 0;
  return {
    async write(person, { property, timeZone }, kind, body) {
      seq += 1;
      const now = deps.now();
      const head: FactHead = {
        id: deps.newId(),
        firm: person.firm,
        property,
        station: null,
        by: person.id,
        device,
        seq,
        at: momentIn(now, timeZone),
        clock: clockToText({ ms: now, count: 0 }),
      };
      const fact: AnyFact = { ...head, kind, body };
      const [verdict] = await ledger.append(person.firm, [fact], new Date(now).toISOString());
      if (verdict === undefined || verdict.verdict === 'refused')
        throw new Error(`the ledger refused "${kind}": ${JSON.stringify(verdict)}`);
      return fact;
    },
  };
}

/** RFC 3339 with the zone's offset; UTC where the zone is unknown. */
export function momentIn(epochMs: number, timeZone: string): string {
  const instant = Temporal.Instant.fromEpochMilliseconds(epochMs);
  try {
    return instant.toZonedDateTimeISO(timeZone).toString({ timeZoneName: 'never' });
  } catch {
    return instant.toZonedDateTimeISO('UTC').toString({ timeZoneName: 'never' });
  }
}
