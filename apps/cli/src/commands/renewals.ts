import { writeFileSync } from 'node:fs';
import { gapInWords, lettersBinding, type PaperLanguage, renderTogether } from '@sillwatch/paper';
import { createBooks, eachRenewalLetter, listRenewals, type Renewals } from '@sillwatch/server';
import { findDay } from '@sillwatch/trade/units';
import { type Context, dayOrToday, print, withLedger } from '../context.ts';
import { CommandError, createProgress, EXIT, type Io } from '../io.ts';
import { describeFirm, type ReportOptions } from './report.ts';

export interface LettersOptions extends ReportOptions {
  readonly month?: string;
  readonly letters: 'own' | PaperLanguage;
  readonly sides: 'one' | 'both';
}

/**
 * `sillwatch report renewal --month YYYY-MM`: the letters of all agreements that end in the month, in one PDF. Names on the terminal which
 * could not be written, with what is missing; ends with 1 where there are any.
 */
export async function runMonthOfLetters(
  io: Io,
  month: string,
  id: string | undefined,
  options: LettersOptions,
): Promise<number> {
  const property = id ?? options.property;
  if (property !== undefined)
    throw new CommandError(
      EXIT.usage,
      `the letters of a month, or the one of ${property}?`,
      'Leave out --month or the property.',
    );
  if (!/^\d{4}-\d{2}$/.test(month) || findDay(`${month}-01`) === undefined)
    throw new CommandError(
      EXIT.usage,
      `${JSON.stringify(month)} is not a month`,
      'Write it as YYYY-MM, for example 2027-03.',
    );
  return withLedger(io, options, async (context) => {
    const { entries } = await createBooks(context.ledger, io.now).open(context.firm);
    const renewals = listRenewals(entries, month);
    if (context.json) {
      print(context, { month, ...renewals }, () => '');
      return renewals.leftOut.length > 0 ? EXIT.found : EXIT.ok;
    }
    if (renewals.letters.length > 0) await writeLetters(context, month, renewals, options);
    tellLeftOut(io, renewals, options.lang ?? 'en-US');
    if (renewals.letters.length + renewals.leftOut.length === 0)
      throw new CommandError(
        EXIT.missing,
        `no agreement ends in ${month}`,
        'Choose another month: `sillwatch property ID --json` says when the agreement of a property ends.',
      );
    return renewals.leftOut.length > 0 ? EXIT.found : EXIT.ok;
  });
}

async function writeLetters(
  context: Context,
  month: string,
  renewals: Renewals,
  options: LettersOptions,
): Promise<void> {
  const { io } = context;
  if (options.format !== 'pdf' || options.out === undefined)
    throw new CommandError(
      EXIT.usage,
      `the letters of ${month} (${renewals.letters.length}) come as one PDF file`,
      'Give --format pdf and a file with --out; --json lists them.',
    );
  if (options.asOf !== undefined) dayOrToday(io, options.asOf, 'UTC');
  const firm = await describeFirm(context, options);
  const of = {
    firm,
    month,
    writtenAt: Temporal.Instant.fromEpochMilliseconds(io.now()).toString(),
    lang: options.lang ?? 'en-US',
  };
  const bytes = await renderTogether(
    lettersBinding(of, options.sides === 'both' ? 'sheet' : 'page'),
    eachPaper(context, firm.name, renewals, { month: of, letters: options.letters, asOf: options.asOf }),
  );
  writeFileSync(options.out, bytes, { mode: 0o600 });
  const { length } = renewals.letters;
  io.err(`${length} ${length === 1 ? 'letter' : 'letters'} written to ${options.out}\n`);
}

async function* eachPaper(
  { io, ledger, firm }: Context,
  firmName: string,
  renewals: Renewals,
  asked: Parameters<typeof eachRenewalLetter>[3],
) {
  const progress = createProgress(io, 'letters');
  let done = 0;
  for await (const page of eachRenewalLetter(
    { ledger, deps: { now: io.now } },
    { firm, firmName },
    renewals,
    asked,
  )) {
    yield* page;
    done += page.length;
    progress.step(Math.min(done, renewals.letters.length), renewals.letters.length);
  }
  progress.end();
}

function tellLeftOut(io: Io, { leftOut }: Renewals, lang: PaperLanguage): void {
  if (leftOut.length === 0) return;
  io.err(`${leftOut.length} not written:\n`);
  for (const { property, name, renewsOn, gaps } of leftOut)
    for (const gap of gaps)
      io.err(`  ${property} (${name || 'no name'}), ends ${renewsOn}: ${gapInWords(gap, lang)}\n`);
}
