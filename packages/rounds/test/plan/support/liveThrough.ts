import {
  type AnyFact,
  assessClearance,
  type Day,
  dueWork,
  type FactBodies,
  type FactKind,
  type Finding,
  type FirmState,
  foldProperty,
  getDay,
  getMoment,
  type RoundBody,
  type StationState,
  stepsFor,
  tickClock,
  type WorkKind,
  workDone,
} from '@sillwatch/trade';

export interface LateFound {
  readonly property: string;
  readonly station: string;
  readonly work: WorkKind;
  readonly latest: Day;
  /** null = still owed at the end */
  readonly plannedOn: Day | null;
}

/**
 * Makes the rounds come true as facts, every station found as it was left, and asks `dueWork` before each visit and at the
 * end what is late. Shares nothing with the plan but the round itself.
 */
export function liveThrough(
  factsByProperty: ReadonlyMap<string, readonly AnyFact[]>,
  firm: FirmState,
  rounds: readonly RoundBody[],
  to: Day,
): readonly LateFound[] {
  const late: LateFound[] = [];
  for (const [property, known] of factsByProperty) {
    const facts = [...known];
    const profile = firm.profiles[foldProperty(facts).body?.profile ?? ''];
    if (profile === undefined) continue;
    const add = createAdder(facts, property);
    const visits = rounds
      .flatMap((round) => round.visits.map((visit) => ({ round, visit })))
      .filter(({ visit }) => visit.property === property)
      .sort((a, b) => (a.round.day < b.round.day ? -1 : 1));
    for (const { round, visit } of visits) {
      const day = getDay(round.day);
      const { stations } = foldProperty(facts);
      for (const { station, work } of visit.works) {
        const state = stations.find((one) => one.station === station);
        if (state === undefined) throw new Error(`${station} does not exist`);
        const isYearly = work === 'yearly service' || work === 'carried-over service';
        for (const item of dueWork([state], profile, day).items) {
          const served =
            isYearly || !(item.work === 'yearly service' || item.work === 'carried-over service');
          if (served && item.latest < day)
            late.push({ property, station, work: item.work, latest: item.latest, plannedOn: day });
        }
        if (work === 'replacement') {
          add('station replaced', station, visit.startsAt, round.person, {
            model: state.model,
            why: 'missed too often',
            inserts: [],
            application: null,
          });
          continue;
        }
        const finding = asItWasLeft(assessClearance(state, profile));
        const model = firm.models[state.model];
        if (model === undefined) throw new Error(`no model ${state.model}`);
        const task = isYearly ? 'yearly service' : 'check';
        const steps = stepsFor({ state, model, finding, task, profile });
        add('station seen', station, visit.startsAt, round.person, {
          visit: visit.visit,
          task,
          finding,
          work: workDone(steps, 3),
          application: null,
          note: '',
          photos: [],
        });
      }
    }
    for (const item of dueWork(foldProperty(facts).stations, profile, to).items)
      if (item.latest <= to)
        late.push({
          property,
          station: item.station,
          work: item.work,
          latest: item.latest,
          plannedOn: null,
        });
  }
  return late;
}

/** Bait that was fed on still is, a hit still is live, nothing else has changed. */
function asItWasLeft(state: StationState): Finding {
  const baited = state.baitedOn !== null;
  const hasMonitor = state.slots.some(({ insert }) => insert === 'monitor');
  return {
    reach: 'opened',
    termites:
      state.phase === 'feeding'
        ? 'live on bait'
        : state.phase === 'hit' && !baited
          ? 'live on monitor'
          : 'none',
    baitLeft: baited ? (state.baitLeft === 'no bait' ? 'half' : state.baitLeft) : 'no bait',
    monitor: hasMonitor ? 'sound' : 'no monitor',
    housing: 'sound',
    occupants: 'none',
  };
}

function createAdder(facts: AnyFact[], property: string) {
  let clock = facts.reduce<string | undefined>(
    (last, fact) => (last === undefined || fact.clock > last ? fact.clock : last),
    undefined,
  );
  let seq = 0;
  return <K extends FactKind>(
    kind: K,
    station: string,
    at: string,
    by: string,
    body: FactBodies[K],
  ): void => {
    clock = tickClock(clock, getMoment(at).epochMs);
    seq += 1;
    facts.push({
      id: `${property}-lived-${seq}`,
      firm: facts[0]?.firm ?? 'firm',
      property,
      station,
      by,
      device: 'device-lived',
      seq,
      at,
      clock,
      kind,
      body,
    });
  };
}
