import { CAUTIONS, PARTS, type Steps, stepsFor, TELL_WORDS } from '@sillwatch/trade';
import { getModel, getProfile, getProperty, getStation, print, withLedger } from '../context.ts';
import { EXIT, type Io } from '../io.ts';
import { type FindingOptions, readFinding, readTask } from './finding.ts';

/** `sillwatch steps PROPERTY STATION`: what to do at this station now, and why. Records nothing. */
export async function runSteps(
  io: Io,
  propertyId: string,
  stationId: string,
  options: FindingOptions,
): Promise<number> {
  return withLedger(io, options, async (context) => {
    const property = await getProperty(context, propertyId);
    const state = getStation(property, stationId);
    const task = readTask(options);
    const finding = readFinding(options);
    const profile = await getProfile(context, property);
    const steps = stepsFor({ state, model: await getModel(context, state.model), finding, task, profile });
    const heading = `Station ${state.number} at ${property.body?.name ?? property.property}: ${task}\n`;
    const label = profile.invented
      ? 'The label profile is invented: its numbers are examples, not a label.\n'
      : '';
    print(
      context,
      { property: property.property, station: state.station, task, finding, ...steps },
      () => `${heading}${label}\n${describeSteps(steps)}`,
    );
    return EXIT.ok;
  });
}

export function describeSteps(steps: Steps): string {
  const lines = steps.steps.map(
    (step, index) => `${String(index + 1).padStart(2)}. ${step.id}\n      why: ${step.reason}`,
  );
  const parts = Object.entries(steps.partsUsed).map(([part, count]) => `${count} ${PARTS[part] ?? part}`);
  const extra = [
    parts.length === 0 ? '' : `Parts: ${parts.join(', ')}`,
    steps.baitGrams > 0 ? `Bait: ${steps.baitGrams} g of product` : '',
    steps.carriedOver ? 'The yearly service of this station is carried over: it stays owed.' : '',
    ...steps.tell.map((key) => `Tell the customer: ${TELL_WORDS[key] ?? key}`),
    ...steps.cautions.map((key) => `Caution: ${CAUTIONS[key] ?? key}`),
    'The label in hand and the local code come before this list.',
  ].filter((line) => line !== '');
  return `${lines.join('\n')}\n\n${extra.join('\n')}\n`;
}
