import {
  type AnyFact,
  type Application,
  checkFact,
  type LabelProfile,
  type StationState,
  type Steps,
  stepsFor,
  tickClock,
  uuidV7,
  workDone,
} from '@sillwatch/trade';
import {
  type Context,
  getModel,
  getProfile,
  getProperty,
  getStation,
  print,
  withLedger,
} from '../context.ts';
import { CommandError, EXIT, type Io } from '../io.ts';
import { type FindingOptions, readFinding, readTask } from './finding.ts';
import { describeSteps } from './steps.ts';

export interface RecordOptions extends FindingOptions {
  readonly by: string;
  readonly at?: string;
  readonly visit?: string;
  readonly minutes?: string;
  readonly note?: string;
  readonly applicator?: string;
  readonly certification?: string;
  readonly supervised?: string;
}

/** This terminal as a device: one sequence, taken up from the ledger. */
const DEVICE = 'terminal';

/** `sillwatch record PROPERTY STATION`: writes that the station was seen and that the steps of the rules were followed. */
export async function runRecord(
  io: Io,
  propertyId: string,
  stationId: string,
  options: RecordOptions,
): Promise<number> {
  return withLedger(io, options, async (context) => {
    const property = await getProperty(context, propertyId);
    const state = getStation(property, stationId);
    const profile = await getProfile(context, property);
    const task = readTask(options);
    const finding = readFinding(options);
    const steps = stepsFor({ state, model: await getModel(context, state.model), finding, task, profile });
    const timeZone = property.body?.timeZone ?? 'UTC';
    const at =
      options.at ??
      Temporal.Instant.fromEpochMilliseconds(io.now())
        .toZonedDateTimeISO(timeZone)
        .round('second')
        .toString({ timeZoneName: 'never' });
    const address =
      property.body === null ? '' : `${property.body.address.street}, ${property.body.address.town}, `;
    const fact: AnyFact = {
      id: uuidV7(io.now(), io.random(10)),
      firm: context.firm,
      property: property.property,
      station: state.station,
      by: options.by,
      device: DEVICE,
      ...(await nextStamp(context)),
      at,
      kind: 'station seen',
      body: {
        visit: options.visit ?? `${property.property}-${at.slice(0, 10)}`,
        task,
        finding,
        work: workDone(steps, readMinutes(options.minutes)),
        application: applicationOf(steps, options, profile, state, address),
        note: options.note ?? '',
        photos: [],
      },
    };
    const [problem] = checkFact(fact);
    if (problem !== undefined)
      throw new CommandError(EXIT.found, `not recorded: ${problem.path}: ${problem.detail}`, problem.remedy);
    const [verdict] = await context.ledger.append(
      context.firm,
      [fact],
      Temporal.Instant.fromEpochMilliseconds(io.now()).toString(),
    );
    if (verdict === undefined || verdict.verdict === 'refused') {
      throw new CommandError(
        EXIT.found,
        `not recorded: ${verdict?.detail ?? 'the ledger gave no verdict'}`,
        'Mend what is named and record it again.',
      );
    }
    print(
      context,
      { fact, verdict, steps },
      () => `Recorded as entry ${verdict.seq} (${fact.id}).\n\n${describeSteps(steps)}`,
    );
    return EXIT.ok;
  });
}

async function nextStamp(context: Context): Promise<{ readonly seq: number; readonly clock: string }> {
  let seq = 0;
  let clock: string | undefined;
  let afterSeq = 0;
  for (;;) {
    const page = await context.ledger.listFacts(context.firm, { afterSeq, limit: 10_000 });
    for (const fact of page) {
      if (fact.device === DEVICE) seq = Math.max(seq, fact.seq);
      if (clock === undefined || fact.clock > clock) clock = fact.clock;
      afterSeq = fact.receipt?.seq ?? afterSeq;
    }
    if (page.length < 10_000) break;
  }
  return { seq: seq + 1, clock: tickClock(clock, context.io.now()) };
}

function readMinutes(text: string | undefined): number | null {
  if (text === undefined) return null;
  const minutes = Number(text);
  if (Number.isFinite(minutes) && minutes >= 0 && minutes <= 1440) return minutes;
  throw new CommandError(
    EXIT.usage,
    `--minutes ${JSON.stringify(text)} is not a number of minutes`,
    'Give a number from 0 to 1440.',
  );
}

/** The pesticide use record, where the steps put bait in; what is not given stays empty and is refused by name. */
function applicationOf(
  steps: Steps,
  options: RecordOptions,
  profile: LabelProfile,
  state: StationState,
  address: string,
): Application | null {
  if (steps.baitGrams === 0) return null;
  return {
    productName: profile.product.name,
    epaRegistrationNumber: profile.product.epaRegistrationNumber,
    grams: steps.baitGrams,
    location: `${address}station ${state.number}`,
    areaTreated: '1 station',
    site: 'soil beside the foundation wall, in-ground station',
    applicatorName: options.applicator ?? '',
    certificationNumber: options.certification ?? '',
    appliedUnderSupervisionBy: options.supervised ?? null,
  };
}
