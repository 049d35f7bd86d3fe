import type { LateReason, Remedy } from '@sillwatch/rounds';
import { formatIn } from './format.ts';

const { listed, number, plural, trim } = formatIn('en-US');

const METRES_PER_MILE = 1609.344;
/** Tenths below ten miles: around a corner is not "0 mi". */
const miles = (metres: number): string => {
  const count = metres / METRES_PER_MILE;
  return `${count < 10 ? trim(count) : number(Math.round(count))} mi`;
};
const minutes = (n: number): string => plural(Math.round(n), 'minute', 'minutes');
const hours = (n: number): string => `${trim(n / 60)} h`;

/** Words of the pages of the plan, in English. */
export const plan = {
  plan: {
    title: 'Plan',
    lead: 'Who goes where on which day, in which order: every window kept, promises kept, visits merged, little driving.',
    from: 'First day',
    fromHint: 'Empty = tomorrow',
    weeks: 'For how long',
    weekCount: (n: number) => plural(n, 'week', 'weeks'),
    search: 'Search for',
    seconds: (n: number) => (n < 60 ? plural(n, 'second', 'seconds') : plural(n / 60, 'minute', 'minutes')),
    start: 'Plan',
    nobody: 'Nobody of this branch has working hours yet.',
    nobodyRemedy: 'Give technicians their hours',
    earlier: 'Earlier plans',
    span: (from: string, days: number) => `${plural(Math.round(days / 7), 'week', 'weeks')} from ${from}`,
    states: {
      waiting: 'waits for its turn',
      running: 'is being searched',
      done: 'done',
      cancelled: 'stopped, the best so far kept',
      failed: 'failed',
    },
    sentOut: 'Sent out',
    changedSince: 'changed since it was sent out',
    failed: 'The plan failed',
    failures: {
      'the server failed while planning': 'The server failed while it searched; its log says why.',
      'stopped before a plan was found': 'Stopped before a plan was found.',
      'stopped before it began': 'Stopped before it began.',
    } as Readonly<Record<string, string>>,
    planAnew: 'Plan anew',
    noPlan: 'There is no such plan',
    noPlanRemedy:
      'Plans that were never sent out are dropped after 60 days. Plan anew; what was sent out is kept.',
    waiting: 'Waits for its turn',
    searching: 'Searching',
    progress: (p: {
      readonly rounds: number;
      readonly visits: number;
      readonly unplannedVisits: number;
      readonly driveMinutes: number;
    }) =>
      `So far ${plural(p.rounds, 'round', 'rounds')} with ${plural(p.visits, 'visit', 'visits')}, ${hours(p.driveMinutes)} of driving, ${number(p.unplannedVisits)} left out.`,
    stop: 'Stop and keep the best so far',
    summary: (t: { readonly rounds: number; readonly visits: number; readonly driveMetres: number }) =>
      `${plural(t.visits, 'visit', 'visits')} in ${plural(t.rounds, 'round', 'rounds')}, ${miles(t.driveMetres)}.`,
    travel: {
      'great circle': 'Driving times are estimated from distances.',
      'road network in process': 'Driving times come from a road network on this server.',
      'road service': 'Driving times come from a road service.',
    },
    sendOut: 'Send the rounds out',
    sent: (s: { readonly rounds: number; readonly visits: number }) =>
      `${plural(s.rounds, 'round', 'rounds')} with ${plural(s.visits, 'visit', 'visits')} sent out; phones fetch them by themselves.`,
    rounds: 'Rounds',
    noRounds: 'No round in this plan.',
    noRound: 'No round',
    before: 'Week before',
    after: 'Week after',
    weekOf: (day: string) => `Week of ${day}`,
    roundOf: (round: { readonly visits: readonly { readonly driveMetres: number }[] }) =>
      `${plural(round.visits.length, 'visit', 'visits')}, ${miles(round.visits.reduce((sum, visit) => sum + visit.driveMetres, 0))}`,
    roundTitle: (who: string, day: string) => `${who}, ${day}`,
    workList: 'Work list (PDF)',
    asks: (n: number) => plural(n, 'request', 'requests'),
    drive: (n: number, metres: number) => `${minutes(n)} and ${miles(metres)} to get there.`,
    frozen: 'Held: later plans leave it here.',
    move: 'Move',
    freeze: 'Hold here',
    thaw: 'Let go',
    toDay: 'To the day',
    toPerson: 'To whom',
    tryMove: 'What would that cost?',
    applyMove: 'Move it',
    moveCost: (m: {
      readonly driveMinutes: number;
      readonly driveMetres: number;
      readonly overtimeMinutes: number;
    }) =>
      `${m.driveMinutes < 0 ? 'Saves' : 'Costs'} ${minutes(Math.abs(m.driveMinutes))} of driving; ` +
      `${miles(Math.abs(m.driveMetres))} ${m.driveMetres < 0 ? 'fewer' : 'more'}` +
      (Math.round(m.overtimeMinutes) === 0
        ? '.'
        : `; ${minutes(Math.abs(m.overtimeMinutes))} ${m.overtimeMinutes < 0 ? 'less' : 'more'} overtime.`),
    byMinutes: (n: number) => minutes(n),
    asking: 'Reckoning…',
    othersShift: (n: number) => `${plural(n, 'other visit starts', 'other visits start')} at another time.`,
    cannot: (why: string) => `It cannot be put there: ${why}.`,
    moveRefusals: {
      'no such visit': 'the plan no longer has this visit',
      'no such technician': 'the firm has no such technician',
      'day outside the plan': 'the day is outside the plan',
      'no such position': 'the round has no such place',
    },
    changedByOther:
      'Somebody else changed the plan meanwhile. What you see now is theirs: look at it, then repeat what you did.',
    dragHow: 'Drag a visit to another day or technician, or press it and move it by a form.',
    withVisits: 'Show the visits',
    dropHow: 'Let go over a day and a technician; Escape puts it back.',
    confirmMove: (name: string, who: string, when: string) => `Move ${name} to ${who}, ${when}?`,
    leaveIt: 'Leave it where it is',
    moveAllTheSame: 'Move it all the same',
    nowWith: (name: string, who: string, when: string) => `${name} is now with ${who} on ${when}.`,
    close: 'Close',
    noAnswer: 'The server gives no answer; it is asked again by itself. The search goes on there.',
    putBack: 'Put it back',
    moveDue: {
      'too early': (days: number) => `${plural(Math.abs(days), 'day', 'days')} before its window opens.`,
      'in its window': () => 'Still inside its window.',
      late: (days: number) => `${plural(Math.abs(days), 'day', 'days')} after its last day.`,
    },
    breaks: (n: number) => `breaks ${plural(n, 'rule', 'rules')}`,
    rules: {
      'past the hours of the property': 'Past the hours of the property',
      'past the working hours': 'Past the working hours',
      'no room for the break': 'No room for the break',
      'outside the due window': 'Outside the due window',
      'not a visiting day of the property': 'Not a visiting day of the property',
      'promised for another day': 'The customer was told another day',
      'frozen with another technician': 'Held with another technician',
      'skill missing': 'The technician lacks what the property asks for',
    },
    call: (n: number) => `${plural(n, 'customer', 'customers')} to call: what was told cannot be kept`,
    released: { 'frozen visit': 'held for', promise: 'promised for' },
    releaseReasons: {
      'technician away': 'the technician is away',
      'technician has left': 'the technician has left',
      'technician does not work that day': 'the technician does not work that day',
      'branch closed': 'the branch is closed',
      'nobody works that day': 'nobody works that day',
    },
    unplanned: (n: number) => `${plural(n, 'visit', 'visits')} in no round`,
    unplannedReasons: {
      'no position': 'its place on the map is not known',
      'no label profile': 'it has no label profile',
      'no day left': 'no day is left for it',
      'nobody works on its days': 'nobody works on its days',
      'nobody has the skills': 'nobody can do what it asks for',
      'its person is away': 'its technician is away',
      'too far or too long for a day': 'it is too far, or takes too long, for one day',
      'no room': 'the rounds are full',
    },
    wouldFit: 'Tried, and would fit with:',
    /** `who` and `when` are words already. */
    remedy: (r: Remedy, who: string, when: string): string => {
      switch (r.kind) {
        case 'overtime':
          return `${minutes(r.minutes)} of overtime for ${who} on ${when}`;
        case 'another day':
          return r.daysOutside === 0
            ? `${who} on ${when}, within its window`
            : `${who} on ${when}, ${plural(Math.abs(r.daysOutside), 'day', 'days')} ${r.daysOutside < 0 ? 'before its window opens' : 'after its last day'}`;
        case 'a day more':
          return `one more working day for ${who}, ${when}`;
        case 'give up the hours':
          return `any hour of ${when}, with ${who}: the hours of the property given up`;
        case 'another technician':
          return `${who} on ${when}`;
        case 'a skill':
          return `${who} able to do: ${r.skills.join(', ')} (${when})`;
        case 'one technician more':
          return `one technician more on ${when}`;
        case 'enter its position':
          return 'its place on the map, once entered';
        case 'enter its label profile':
          return 'its label profile, once entered';
      }
    },
    price: (n: number) => (Math.abs(n) < 600 ? minutes(n) : hours(n)),
    priceHow:
      'In brackets what each stands for in a technician’s time: driving and work, and what other days, persons and late days are counted as.',
    tryRemedy: 'Look at it',
    toHours: 'Hours and skills of technicians',
    toPeople: 'People of the firm',
    toProperty: 'To the property',
    windowOf: (from: string, to: string) => `Keeps its window from ${from} to ${to}.`,
    putInRound: 'Put in a round',
    pullIn: 'Put it there',
    lateWorks: (works: number, day: string) =>
      `${plural(works, 'piece of work', 'pieces of work')} with the last day ${day},`,
    plannedOn: (day: string) => `planned on ${day}`,
    plannedNever: 'planned on no day',
    lateReasons: {
      'late before the plan begins': 'Its last day was over before the plan begins.',
      'in no round': 'It is in no round; the list above says what would make room.',
      'no day of its window can be used':
        'On no day of its window may it be visited: nobody drives, or the property does not allow it.',
      'no room on the days of its window': 'The rounds on the days of its window are full.',
      'there is room that was not used':
        'There is room within its window: the search ended early, or the visit was moved by hand.',
    } satisfies Record<LateReason, string>,
    late: (n: number) => `${plural(n, 'window', 'windows')} that this plan does not keep`,
    lateBefore: (n: number) =>
      `${plural(n, 'window', 'windows')} over before the plan begins, and when they are made good`,
    compared: 'Compared',
    byHandHow:
      '“By hand” is one way of doing it: each property on its target day, with the nearest technician, the nearest next.',
    /** Differences from by hand to this plan: above 0 = fewer here, except `metres`. */
    moreMiles: (than: {
      readonly metres: number;
      readonly hours: number;
      readonly rounds: number;
      readonly late: number;
    }): string => {
      const fewer = [
        ...(than.hours > 0 ? [plural(than.hours, 'hour', 'hours')] : []),
        ...(than.rounds > 0 ? [plural(than.rounds, 'round', 'rounds')] : []),
        ...(than.late > 0 ? [plural(than.late, 'late piece of work', 'late pieces of work')] : []),
      ];
      return `This plan drives ${miles(than.metres)} more than by hand${fewer.length === 0 ? '' : `, with ${listed(fewer)} fewer`}. The search counts technicians’ time, late days and who goes where; miles count by the time they take.`;
    },
    what: 'What',
    thisPlan: 'This plan',
    lastPlan: 'Sent out before',
    byHand: 'By hand',
    nowhere: 'nowhere',
    rows: {
      rounds: 'Rounds',
      visits: 'Visits',
      driveMetres: 'Miles',
      hours: 'Hours',
      overtimeMinutes: 'Hours of overtime',
      lateWorks: 'Late pieces of work',
      otherPerson: 'Visits by somebody new',
    },
    moved: (n: number, kept: number) =>
      `${plural(n, 'visit', 'visits')} moved, ${number(kept)} kept, against what was sent out before`,
    map: (day: string) => `Map of ${day}`,
    mapWeek: (day: string) => `Map of the week of ${day}`,
    mapOf: (who: string) => `Map of all rounds of ${who}`,
    mapSpan: 'Shown on the map',
    mapSpans: {
      day: 'One day, all technicians',
      week: 'The week, all technicians',
      person: (who: string) => `${who}, all days`,
    },
    mapHow: 'Straight lines from the start over each visit to the end, north up; roads are not drawn.',
    mapOrder: 'The number is the place in the round.',
    mapDays: 'The number is the day of the month.',
    mapNothing: 'Nothing to draw: there is no round, or the places of its properties are not known.',
    mapHome: 'Start and end of rounds',
    mapHomeOf: (who: readonly string[]) => `Start or end: ${who.join(', ')}`,
    mapSpoken: (n: number) =>
      `${plural(n, 'round', 'rounds')} as lines from visit to visit. The lists say the same.`,
  },
};
