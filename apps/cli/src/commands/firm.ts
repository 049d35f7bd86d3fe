import { readFileSync } from 'node:fs';
import { checkProfile, DEMO_PROFILE, isLabelProfile } from '@sillwatch/trade';
import { type CommonOptions, print, withLedger } from '../context.ts';
import { CommandError, EXIT, formatTable, type Io } from '../io.ts';
import { appendEntry } from '../terminal.ts';

export interface BranchOptions extends CommonOptions {
  readonly name?: string;
  readonly timeZone?: string;
  readonly by: string;
}

/** `sillwatch branch [ID]`: the branches, or a new one. */
export async function runBranch(io: Io, id: string | undefined, options: BranchOptions): Promise<number> {
  return withLedger(io, options, async (context) => {
    if (id === undefined) {
      const branches = Object.values((await context.ledger.getFirm(context.firm)).branches);
      print(context, branches, () =>
        branches.length === 0
          ? 'No branch yet. Add one: sillwatch branch main --name "Main office" --time-zone America/New_York\n'
          : formatTable(
              [
                { title: 'branch', of: (one) => one.branch },
                { title: 'name', of: (one) => one.name },
                { title: 'time zone', of: (one) => one.timeZone },
              ],
              branches,
            ),
      );
      return EXIT.ok;
    }
    const { name, timeZone } = options;
    if (name === undefined || timeZone === undefined) {
      throw new CommandError(
        EXIT.usage,
        'a branch has a name and a time zone',
        'Give --name and --time-zone, for example America/New_York.',
      );
    }
    const entry = {
      kind: 'branch added',
      property: null,
      station: null,
      by: options.by,
      timeZone: getZone(timeZone),
    } as const;
    const { verdict } = await appendEntry(context, { ...entry, body: { branch: id, name, timeZone } });
    print(context, { branch: id, verdict }, () => `Branch ${id} is recorded as entry ${verdict.seq}.\n`);
    return EXIT.ok;
  });
}

function getZone(name: string): string {
  try {
    return Temporal.ZonedDateTime.from(`2026-01-01T00:00[${name}]`).timeZoneId;
  } catch {
    throw new CommandError(
      EXIT.usage,
      `${JSON.stringify(name)} is not a time zone`,
      'Name an IANA zone, such as America/New_York.',
    );
  }
}

export interface ProfileOptions extends CommonOptions {
  readonly template?: boolean;
  readonly set?: string;
  readonly by: string;
}

/** `sillwatch profile`: the label profiles; `--template` prints an invented one to fill in; `--set FILE` records it. */
export async function runProfile(io: Io, options: ProfileOptions): Promise<number> {
  if (options.template === true) {
    io.out(`${JSON.stringify(DEMO_PROFILE, null, 2)}\n`);
    io.err(
      'Every number in it is invented. Take each from the label in hand and the local code, write where it stands as its "source",\n' +
        'set "invented" to false, give the profile an id and a name of its own, and record it with --set.\n',
    );
    return EXIT.ok;
  }
  return withLedger(io, options, async (context) => {
    const { profiles } = await context.ledger.getFirm(context.firm);
    if (options.set === undefined) {
      const rows = Object.values(profiles);
      print(context, rows, () =>
        rows.length === 0
          ? 'No label profile yet: nothing can be recorded without one. Start with: sillwatch profile --template > mine.json\n'
          : formatTable(
              [
                { title: 'profile', of: (one) => one.id },
                { title: 'name', of: (one) => one.name },
                {
                  title: 'product',
                  of: (one) => `${one.product.name}, EPA Reg. No. ${one.product.epaRegistrationNumber}`,
                },
                { title: '', of: (one) => (one.invented ? 'holds invented numbers' : '') },
              ],
              rows,
            ),
      );
      return EXIT.ok;
    }
    const body = readProfile(options.set);
    const { verdict } = await appendEntry(context, {
      kind: 'profile set',
      body,
      property: null,
      station: null,
      by: options.by,
      timeZone: 'UTC',
    });
    print(
      context,
      { profile: body.id, invented: body.invented, verdict },
      () =>
        `Label profile ${body.id} is recorded as entry ${verdict.seq}.${body.invented ? ' It holds invented numbers and will say so.' : ''}\n`,
    );
    return EXIT.ok;
  });
}

function readProfile(file: string) {
  let given: unknown;
  try {
    given = JSON.parse(readFileSync(file, 'utf8'));
  } catch (error) {
    throw new CommandError(
      EXIT.usage,
      `${file} cannot be read: ${error instanceof Error ? error.message : ''}`,
      'Start with `sillwatch profile --template`.',
    );
  }
  if (isLabelProfile(given)) return given;
  const problems = checkProfile(given);
  const [first] = problems;
  throw new CommandError(
    EXIT.found,
    `${file}: ${problems.length} problems\n${problems.map((one) => `  ${one.path}: ${one.reason}; ${one.remedy}`).join('\n')}`,
    first === undefined ? '' : 'Mend what is named; nothing was recorded.',
  );
}
