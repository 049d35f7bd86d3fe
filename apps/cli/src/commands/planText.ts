import type { BranchPlan, PlanTotals, Remedy, UnplannedWork } from '@sillwatch/rounds';
import type { PlanResult } from '@sillwatch/server';
import type { PropertyState, RoundBody, RoundVisit } from '@sillwatch/trade';
import { formatTable } from '../io.ts';

type Names = ReadonlyMap<string, PropertyState>;

const METRES_PER_MILE = 1609.344;
/** Pages are read on terminals of a hundred columns. */
const NAME_WIDTH = 21;
const ADDRESS_WIDTH = 30;
const WORK_WIDTH = 22;
const MOST_LATE = 12;

/** The rounds, what is in none and what would make room, and how it compares, in a hundred columns. */
export function describePlan({ plan, comparison, notes }: PlanResult, names: Names): string {
  const who = new Map(plan.people.map(({ person, name }) => [person, name]));
  return [
    `${plan.branch}, ${plan.from} to ${plan.to}: ${count(plan.totals.rounds, 'round')}, ${count(plan.totals.visits, 'visit')}.`,
    `Travel: ${plan.travel}${plan.travel === 'great circle' ? ' (estimated from distances, no roads)' : ''}.`,
    ...notes.map((note) => `Note: ${note}.`),
    '',
    ...plan.rounds.map((round) => describeRound(round, who.get(round.person) ?? round.person, names)),
    ...describeUnplanned(plan, names),
    ...describeReleased(plan, names),
    ...describeLate(plan, names),
    'Compared',
    formatTable(
      [
        { title: '', of: ({ title }) => title },
        { title: 'rounds', of: ({ totals }) => String(totals.rounds), alignRight: true },
        { title: 'visits', of: ({ totals }) => String(totals.visits), alignRight: true },
        { title: 'miles', of: ({ totals }) => miles(totals.driveMetres), alignRight: true },
        { title: 'driving h', of: ({ totals }) => hours(totals.driveMinutes), alignRight: true },
        { title: 'work h', of: ({ totals }) => hours(totals.workMinutes), alignRight: true },
        { title: 'waiting h', of: ({ totals }) => hours(totals.waitMinutes), alignRight: true },
        { title: 'overtime h', of: ({ totals }) => hours(totals.overtimeMinutes), alignRight: true },
        { title: 'late works', of: ({ totals }) => String(totals.lateWorks), alignRight: true },
        { title: 'not planned', of: ({ totals }) => String(totals.unplannedVisits), alignRight: true },
      ],
      comparisonRows(comparison),
    ),
    comparison.moves === null
      ? ''
      : `Against what was sent out: ${comparison.moves.kept} visits stay, ${comparison.moves.moved.length} change.\n`,
  ].join('\n');
}

function comparisonRows({
  plan,
  last,
  byHand,
}: PlanResult['comparison']): readonly { readonly title: string; readonly totals: PlanTotals }[] {
  return [
    { title: 'this plan', totals: plan },
    ...(last === null ? [] : [{ title: 'sent out last', totals: last }]),
    { title: 'by hand', totals: byHand },
  ];
}

/** One round: when it leaves, each visit in driving order, when it is back. */
export function describeRound(round: RoundBody, name: string, names: Names): string {
  const metres = round.visits.reduce((sum, { driveMetres }) => sum + driveMetres, 0);
  const head =
    `${round.day}  ${name}: leaves ${clock(round.startsAt)}, back ${clock(round.endsAt)}, ` +
    `${count(round.visits.length, 'visit')}, ${miles(metres)} miles out`;
  const rest = round.breakMinutes > 0 ? `, break ${round.breakMinutes} min` : '';
  const table = formatTable<RoundVisit>(
    [
      { title: '  at', of: ({ startsAt }) => `  ${clock(startsAt)}` },
      { title: 'until', of: ({ endsAt }) => clock(endsAt) },
      { title: 'drive', of: ({ driveMinutes }) => `${driveMinutes} min`, alignRight: true },
      { title: 'property', of: ({ property }) => cut(nameOf(names, property), NAME_WIDTH) },
      { title: 'address', of: ({ property }) => cut(addressOf(names, property), ADDRESS_WIDTH) },
      { title: 'work', of: workOf },
    ],
    round.visits,
  );
  return `${head}${rest}\n${table}`;
}

function workOf({ works, asks, frozen }: RoundVisit): string {
  const counts = new Map<string, number>();
  for (const { work } of works) counts.set(work, (counts.get(work) ?? 0) + 1);
  const parts = [...counts].map(([work, count]) => `${count} ${SHORT[work] ?? work}`);
  if (asks.length > 0) parts.push('request');
  return cut(`${parts.join(', ')}${frozen ? ' (fixed)' : ''}`, WORK_WIDTH);
}

const SHORT: Readonly<Record<string, string>> = {
  'yearly service': 'yearly',
  'carried-over service': 'carried over',
  'baited check': 'baited',
  'missed station': 'missed',
};

function describeUnplanned({ unplanned }: BranchPlan, names: Names): readonly string[] {
  if (unplanned.length === 0) return ['Everything that is owed has its visit.', ''];
  const lines = unplanned.flatMap((work) => {
    const [cheapest] = work.remedies ?? [];
    const window = work.earliest === null ? '' : ` (${work.earliest} to ${work.latest})`;
    return [
      `  ${cut(nameOf(names, work.property), NAME_WIDTH)}${window}: ${work.reason}, ${amountOf(work)}`,
      ...(cheapest === undefined ? [] : [`    remedy: ${remedyText(cheapest)}`]),
    ];
  });
  return [`Not planned: ${unplanned.length}`, ...lines, ''];
}

function amountOf({ works, asks }: UnplannedWork): string {
  return [
    ...(works.length > 0 ? [count(works.length, 'station work')] : []),
    ...(asks.length > 0 ? [count(asks.length, 'request')] : []),
  ].join(' and ');
}

function remedyText(remedy: Remedy): string {
  switch (remedy.kind) {
    case 'overtime':
      return `${remedy.minutes} min more overtime of ${remedy.person} on ${remedy.day}`;
    case 'another day':
      return `${remedy.person} on ${remedy.day}, ${Math.abs(remedy.daysOutside)} days ${remedy.daysOutside < 0 ? 'before' : 'after'} its window`;
    case 'a day more':
      return `${remedy.person} works on ${remedy.day} too`;
    case 'give up the hours':
      return `the customer takes ${remedy.person} on ${remedy.day} at ${clock(remedy.startsAt)}`;
    case 'another technician':
      return `${remedy.person} goes on ${remedy.day} instead`;
    case 'a skill':
      return `${remedy.person} learns ${remedy.skills.join(', ')} by ${remedy.day}`;
    case 'one technician more':
      return `one technician more on ${remedy.day}`;
    case 'enter its position':
    case 'enter its label profile':
      return remedy.kind;
  }
}

function describeReleased({ released }: BranchPlan, names: Names): readonly string[] {
  if (released.length === 0) return [];
  return [
    'Tell the customer: could not be kept',
    ...released.map(
      ({ property, what, day, why }) =>
        `  ${cut(nameOf(names, property), NAME_WIDTH)}: ${what} of ${day} (${why})`,
    ),
    '',
  ];
}

function describeLate({ late }: BranchPlan, names: Names): readonly string[] {
  const byProperty = Map.groupBy(late, ({ property }) => property);
  if (byProperty.size === 0) return [];
  const rows = [...byProperty].slice(0, MOST_LATE).map(([property, items]) => {
    const planned = [...new Set(items.map(({ plannedOn }) => plannedOn ?? 'not planned'))].sort();
    return `  ${cut(nameOf(names, property), NAME_WIDTH)}: ${count(items.length, 'work')}, planned ${planned[0] ?? ''}`;
  });
  const more = byProperty.size - rows.length;
  return [
    `Past its window: ${count(late.length, 'work')} at ${count(byProperty.size, 'property')}`,
    ...rows,
    ...(more > 0 ? [`  and ${count(more, 'property')} more`] : []),
    '',
  ];
}

function nameOf(names: Names, property: string): string {
  return names.get(property)?.body?.name ?? property;
}

function addressOf(names: Names, property: string): string {
  const address = names.get(property)?.body?.address;
  return address === undefined ? '' : `${address.street}, ${address.town}`;
}

function count(
  number: number,
  noun: 'round' | 'visit' | 'work' | 'station work' | 'request' | 'property',
): string {
  if (number === 1) return `1 ${noun}`;
  return `${number} ${noun === 'property' ? 'properties' : `${noun}s`}`;
}

function clock(moment: string): string {
  return moment.slice(11, 16);
}

function miles(metres: number): string {
  return (metres / METRES_PER_MILE).toFixed(1);
}

function hours(minutes: number): string {
  return (minutes / 60).toFixed(1);
}

function cut(text: string, width: number): string {
  return text.length <= width ? text : `${text.slice(0, width - 1)}…`;
}
