import { eachFactPage, type Verdict } from '@sillwatch/ledger';
import { type AnyFact, checkFact, type FactBodies, type FactKind, tickClock, uuidV7 } from '@sillwatch/trade';
import type { Context } from './context.ts';
import { CommandError, EXIT } from './io.ts';

/** This terminal as a device: one sequence, taken up from the ledger. */
const DEVICE = 'terminal';

export interface Entry<K extends FactKind> {
  readonly kind: K;
  readonly body: FactBodies[K];
  /** null for entries of the firm itself */
  readonly property: string | null;
  readonly station: string | null;
  readonly by: string;
  /** RFC 3339 with offset; now in `timeZone` when not given */
  readonly at?: string | undefined;
  readonly timeZone: string;
}

/** Appends one entry, or throws a CommandError that names the place and the remedy; nothing is kept then. */
export async function appendEntry<K extends FactKind>(
  context: Context,
  entry: Entry<K>,
): Promise<{ readonly fact: AnyFact; readonly verdict: Exclude<Verdict, { readonly verdict: 'refused' }> }> {
  const { io, ledger, firm } = context;
  const now = Temporal.Instant.fromEpochMilliseconds(io.now());
  const { property, station, by, kind, body } = entry;
  const fact: AnyFact = {
    id: uuidV7(io.now(), io.random(10)),
    firm,
    property,
    station,
    by,
    device: DEVICE,
    ...(await nextStamp(context)),
    at:
      entry.at ?? now.toZonedDateTimeISO(entry.timeZone).round('second').toString({ timeZoneName: 'never' }),
    kind,
    body,
  };
  const [problem] = checkFact(fact);
  if (problem !== undefined) {
    throw new CommandError(EXIT.found, `not recorded: ${problem.path}: ${problem.detail}`, problem.remedy);
  }
  const [verdict] = await ledger.append(firm, [fact], now.toString());
  if (verdict === undefined || verdict.verdict === 'refused') {
    throw new CommandError(
      EXIT.found,
      `not recorded: ${verdict?.detail ?? 'the ledger gave no verdict'}`,
      'Mend what is named and record it again.',
    );
  }
  return { fact, verdict };
}

/** The next sequence number of this device, and a clock that sorts after everything the ledger has seen. */
async function nextStamp(context: Context): Promise<{ readonly seq: number; readonly clock: string }> {
  let seq = 0;
  let clock: string | undefined;
  for await (const page of eachFactPage(context.ledger, context.firm)) {
    for (const fact of page) {
      if (fact.device === DEVICE) seq = Math.max(seq, fact.seq);
      if (clock === undefined || fact.clock > clock) clock = fact.clock;
    }
  }
  return { seq: seq + 1, clock: tickClock(clock, context.io.now()) };
}
