import { writeFileSync } from 'node:fs';
import { feedToText, type PaperLanguage, propertyFeed, roundFeed } from '@sillwatch/paper';
import { listPublished } from '@sillwatch/server';
import type { PropertyState } from '@sillwatch/trade';
import { type CommonOptions, getProperty, withLedger } from '../context.ts';
import { CommandError, EXIT, type Io } from '../io.ts';
import { describeProperty, langOf } from './report.ts';

export interface CalendarOptions extends CommonOptions {
  readonly out?: string;
  readonly asOf?: string;
  readonly lang?: PaperLanguage;
}

/** `sillwatch calendar rounds PERSON` or `calendar property PROPERTY`: an iCalendar file as the feed would give it. */
export async function runCalendar(
  io: Io,
  what: string,
  id: string,
  options: CalendarOptions,
): Promise<number> {
  if (what !== 'rounds' && what !== 'property')
    throw new CommandError(EXIT.usage, `no calendar of ${JSON.stringify(what)}`, 'Use rounds or property.');
  return withLedger(io, options, async (context) => {
    const rounds = await listPublished(context.ledger, context.firm);
    const stampMs = io.now();
    if (what === 'property') {
      const property = await getProperty(context, id);
      const { due, asOf } = await describeProperty(context, property, options);
      const timeZone = property.body?.timeZone ?? 'UTC';
      const feed = propertyFeed({ property, rounds, due, asOf, stampMs, timeZone, ...langOf(options) });
      return finish(io, options, feedToText(feed));
    }
    const own = rounds.filter((round) => round.person === id);
    if (own.length === 0)
      throw new CommandError(
        EXIT.missing,
        `no round of ${JSON.stringify(id)} was sent out`,
        `There are rounds of: ${[...new Set(rounds.map(({ person }) => person))].join(', ') || 'nobody yet'}.`,
      );
    const properties = new Map<string, PropertyState>();
    for (const visit of own.flatMap(({ visits }) => visits)) {
      const state = await context.ledger.findProperty(context.firm, visit.property);
      if (state !== undefined) properties.set(visit.property, state);
    }
    const { technicians } = await context.ledger.getFirm(context.firm);
    const personName = technicians[id]?.name ?? id;
    return finish(
      io,
      options,
      feedToText(roundFeed({ personName, rounds: own, properties, stampMs, ...langOf(options) })),
    );
  });
}

function finish(io: Io, { out }: CalendarOptions, text: string): number {
  if (out === undefined) {
    io.out(text);
  } else {
    writeFileSync(out, text, { mode: 0o600 });
    io.err(`written to ${out}\n`);
  }
  return EXIT.ok;
}
