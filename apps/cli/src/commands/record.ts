import {
  type Application,
  type LabelProfile,
  type StationState,
  type Steps,
  stepsFor,
  workDone,
} from '@sillwatch/trade';
import { dayToText } from '@sillwatch/trade/units';
import { dayOrToday, getModel, getProfile, getProperty, getStation, print, withLedger } from '../context.ts';
import { CommandError, EXIT, type Io } from '../io.ts';
import { appendEntry } from '../terminal.ts';
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
    const today = dayToText(dayOrToday(io, undefined, timeZone));
    const address =
      property.body === null ? '' : `${property.body.address.street}, ${property.body.address.town}, `;
    const { fact, verdict } = await appendEntry(context, {
      kind: 'station seen',
      property: property.property,
      station: state.station,
      by: options.by,
      at: options.at,
      timeZone,
      body: {
        visit: options.visit ?? `${property.property}-${options.at?.slice(0, 10) ?? today}`,
        task,
        finding,
        work: workDone(steps, readMinutes(options.minutes)),
        application: applicationOf(steps, options, profile, state, address),
        note: options.note ?? '',
        photos: [],
      },
    });
    print(
      context,
      { fact, verdict, steps },
      () => `Recorded as entry ${verdict.seq} (${fact.id}).\n\n${describeSteps(steps)}`,
    );
    return EXIT.ok;
  });
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
