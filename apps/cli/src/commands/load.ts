import {
  branchStock,
  dueVisit,
  expectedVisits,
  type FigureSubject,
  fitHitRisk,
  type Load,
  type LoadVisit,
  learnWear,
  loadFor,
  type OpenOrder,
  type PartStock,
  visitsOfRound,
} from '@sillwatch/rounds';
import { type AnyFact, foldOrders, foldRounds, foldStock } from '@sillwatch/trade';
import { addDays, type Day, dayToText } from '@sillwatch/trade/units';
import {
  COMMON_MODELS,
  type CommonOptions,
  type Context,
  dayOrToday,
  getProperty,
  print,
  withLedger,
} from '../context.ts';
import { readFirmFacts } from '../factsOf.ts';
import { CommandError, EXIT, formatTable, type Io } from '../io.ts';

export interface LoadCommandOptions extends CommonOptions {
  readonly asOf?: string;
  readonly until?: string;
  readonly branch?: string;
  readonly technician?: string;
  readonly property?: readonly string[];
  readonly chance: string;
  readonly stock?: boolean;
}

/** `sillwatch load`: what to carry for a published round, for properties named, or for a branch up to a day; or what a branch should order. */
export async function runLoad(io: Io, options: LoadCommandOptions): Promise<number> {
  const chance = readChance(options.chance);
  return withLedger(io, options, async (context) => {
    const { facts, firm, subjects } = await readFirmFacts(context);
    const asOf = dayOrToday(io, options.asOf, subjects[0]?.state.body?.timeZone ?? 'UTC');
    const known = {
      states: new Map(subjects.map(({ history, state }) => [history.property, state])),
      profiles: firm.profiles,
      models: { ...COMMON_MODELS, ...firm.models },
      risk: fitHitRisk(subjects, asOf),
      wear: learnWear(subjects, asOf),
    };
    if (options.stock === true) {
      const branch = options.branch ?? '';
      const own = subjects.filter((subject) => subject.branch === branch);
      if (own.length === 0) throw noBranch(options.branch, subjects);
      const drivers = Object.values(firm.technicians).flatMap((one) =>
        one.branch === branch && one.active ? [one.person] : [],
      );
      const stock = branchStock({
        ...known,
        states: new Map(own.map(({ history, state }) => [history.property, state])),
        asOf,
        places: [branch, ...drivers],
        lines: foldStock(facts),
        parts: firm.parts,
        orders: foldOrders(facts),
        reviewDays: 7,
        chance,
      });
      print(context, stock, () => describeStock(branch, stock));
      return EXIT.ok;
    }
    const visits = await chooseVisits(context, options, subjects, facts, asOf);
    const names = Object.fromEntries(Object.values(firm.parts).map(({ part, name }) => [part, name]));
    const load = loadFor({ ...known, visits }, { chance, names });
    print(context, { asOf: dayToText(asOf), chance, ...load }, () => describeLoad(load, chance));
    return load.leftOut.length > 0 ? EXIT.found : EXIT.ok;
  });
}

function readChance(text: string): number {
  const percent = Number(text);
  if (percent > 0 && percent < 100) return percent / 100;
  throw new CommandError(
    EXIT.usage,
    `--chance ${JSON.stringify(text)} is no chance of running out`,
    'Give a percentage above 0 and below 100, such as 5 or 1.',
  );
}

async function chooseVisits(
  context: Context,
  options: LoadCommandOptions,
  subjects: readonly FigureSubject[],
  facts: readonly AnyFact[],
  asOf: Day,
): Promise<readonly LoadVisit[]> {
  if (options.technician !== undefined) {
    const rounds = foldRounds(facts).filter(
      ({ person, day }) => person === options.technician && day === dayToText(asOf),
    );
    if (rounds.length === 0)
      throw new CommandError(
        EXIT.missing,
        `no round of ${options.technician} is published for ${dayToText(asOf)}`,
        'Publish one, or name properties with --property.',
      );
    return rounds.flatMap((round) => visitsOfRound(round));
  }
  if (options.property !== undefined) {
    const visits: LoadVisit[] = [];
    for (const id of options.property) {
      const { property } = await getProperty(context, id);
      const subject = subjects.find(({ history }) => history.property === property);
      if (subject === undefined)
        throw new CommandError(
          EXIT.found,
          `property ${property} names a label profile that this firm has not entered`,
          'Enter the numbers of the label in use: sillwatch profile --template.',
        );
      visits.push(dueVisit(subject.state, subject.profile, asOf));
    }
    return visits;
  }
  const until = options.until === undefined ? addDays(asOf, 6) : dayOrToday(context.io, options.until, 'UTC');
  if (until < asOf)
    throw new CommandError(EXIT.usage, '--until lies before the day asked about', 'Give a later day.');
  const own =
    options.branch === undefined ? subjects : subjects.filter(({ branch }) => branch === options.branch);
  if (own.length === 0 && options.branch !== undefined) throw noBranch(options.branch, subjects);
  const profiles = Object.fromEntries(own.map(({ profile }) => [profile.id, profile]));
  return expectedVisits(
    own.map(({ state }) => state),
    profiles,
    asOf,
    until,
  );
}

function noBranch(branch: string | undefined, subjects: readonly FigureSubject[]): CommandError {
  const known = [...new Set(subjects.map((subject) => subject.branch))].sort();
  return new CommandError(
    branch === undefined ? EXIT.usage : EXIT.missing,
    branch === undefined ? 'whose stock?' : `no property belongs to a branch ${JSON.stringify(branch)}`,
    `Name one with --branch: ${known.join(', ') || 'none has a property yet'}.`,
  );
}

function describeLoad(load: Load, chance: number): string {
  if (load.stations === 0) return 'Nothing is due there by then: carry nothing but tools.\n';
  const head = `${load.visits} visits, ${load.stations} stations; each part runs out with a chance of at most ${percent(chance)}, any of them of at most ${percent(load.chanceAnyShort)}.\n`;
  const found = `Expected: ${load.expectedLive.toFixed(1)} stations with live termites, ${load.expectedMissed.toFixed(1)} that cannot be opened.\n\n`;
  const parts = formatTable(
    [
      { title: 'take', of: ({ take }) => String(take), alignRight: true },
      { title: 'part', of: ({ name }) => name },
      { title: 'certain', of: ({ certain }) => String(certain), alignRight: true },
      { title: 'expected', of: ({ expected }) => expected.toFixed(1), alignRight: true },
      { title: 'runs out', of: ({ chanceShort }) => percent(chanceShort), alignRight: true },
      { title: 'most for', of: ({ why }) => why[0]?.step ?? '' },
    ],
    load.parts,
  );
  const tools = load.tools.map(({ tool, chance: wanted }) =>
    wanted >= 0.95 ? tool : `${tool} (${percent(wanted)})`,
  );
  const missing = load.leftOut.map(({ property, station, why }) => `${property} ${station}: ${why}`);
  const left = missing.length === 0 ? '' : `\nNot reckoned:\n${missing.join('\n')}\n`;
  return `${head}${found}${parts}\nTools: ${tools.join(', ')}.\n${left}`;
}

function percent(chance: number): string {
  return `${Number((100 * chance).toPrecision(2))} %`;
}

function describeStock(branch: string, stock: ReturnType<typeof branchStock>): string {
  const rows = formatTable<PartStock>(
    [
      { title: 'order now', of: ({ orderNow }) => String(orderNow), alignRight: true },
      { title: 'part', of: ({ name }) => name },
      { title: 'in hand', of: ({ onHand }) => String(onHand), alignRight: true },
      { title: 'on order', of: ({ onOrder }) => String(onOrder), alignRight: true },
      { title: 'order at', of: ({ reorderPoint }) => String(reorderPoint), alignRight: true },
      { title: 'up to', of: ({ orderUpTo }) => String(orderUpTo), alignRight: true },
      { title: 'days to come', of: ({ leadDays }) => String(leadDays), alignRight: true },
      { title: 'runs out', of: ({ riskNow }) => percent(riskNow), alignRight: true },
      { title: 'expired', of: ({ expired }) => String(expired), alignRight: true },
      { title: 'never counted at', of: ({ neverCounted }) => neverCounted.join(', ') },
    ],
    stock.parts,
  );
  const unknown = stock.withoutLeadTime.map(({ name }) => name);
  const remedy =
    unknown.length === 0
      ? ''
      : `No lead time is known of: ${unknown.join(', ')}. Record how many days they take to come and how many are in a pack.\n`;
  const coming =
    stock.orders.length === 0
      ? ''
      : `\nStill to come:\n${formatTable<OpenOrder>(
          [
            { title: 'pieces', of: ({ open }) => String(open), alignRight: true },
            { title: 'part', of: ({ part }) => part },
            { title: 'ordered', of: ({ orderedOn }) => orderedOn },
            { title: 'expected', of: ({ expectedOn }) => expectedOn },
            { title: '', of: ({ isLate }) => (isLate ? 'late: ask, then `sillwatch order`' : '') },
            { title: 'reference', of: ({ reference }) => reference },
            { title: 'order', of: ({ order }) => order },
          ],
          stock.orders,
        )}`;
  return `${branch}: stock of the branch and its trucks.\n\n${rows}${remedy}${coming}`;
}
