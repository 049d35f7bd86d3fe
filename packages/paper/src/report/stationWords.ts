import type { StationModel } from '@sillwatch/trade';
import { massInWords } from './format.ts';
import type { SeenRead } from './read.ts';
import type { StationEvent } from './visitFacts.ts';
import type { Say } from './words/say.ts';

export type Outcome = 'unreadable' | 'unopened' | 'feeding' | 'live' | 'signs' | 'none';

/** What the finding comes to, for counts. */
export function outcomeOf(seen: SeenRead): Outcome {
  const { finding } = seen;
  if (finding === null) return 'unreadable';
  if (finding.reach !== 'opened') return 'unopened';
  switch (finding.termites) {
    case 'live on bait':
      return 'feeding';
    case 'live on monitor':
      return 'live';
    case 'signs only':
      return 'signs';
    case 'none':
      return 'none';
  }
}

/** What was seen, in the customer's words. */
export function foundInWords(
  event: StationEvent,
  models: Readonly<Record<string, StationModel>>,
  say: Say,
): string {
  if (event.kind === 'installed')
    return say('found.installed', { model: models[event.model]?.name ?? event.model });
  if (event.kind === 'replaced') return say('found.replaced');
  const { finding } = event.seen;
  if (finding === null) return say('found.unreadable');
  if (finding.reach !== 'opened')
    return say(`reach.${finding.reach}`, { why: finding.why || say('not recorded') });
  return [
    say(`termites.${finding.termites}`),
    say(`baitLeft.${finding.baitLeft}`),
    say(`monitor.${finding.monitor}`),
    say(`housing.${finding.housing}`),
    say(`occupants.${finding.occupants}`),
  ]
    .filter((text) => text !== '')
    .join(' ');
}

/** What was done, in the customer's words. */
export function doneInWords(
  event: StationEvent,
  models: Readonly<Record<string, StationModel>>,
  say: Say,
): string {
  const parts = actionsInWords(event, models, say);
  if (parts.length > 0) return parts.join(' ');
  if (event.kind !== 'seen') return '';
  switch (outcomeOf(event.seen)) {
    case 'unopened':
      return say('done.nothing');
    case 'unreadable':
      return say('not recorded');
    case 'feeding':
    case 'live':
      return say('done.left');
    case 'signs':
    case 'none':
      return say('done.looked');
  }
}

function actionsInWords(
  event: StationEvent,
  models: Readonly<Record<string, StationModel>>,
  say: Say,
): readonly string[] {
  const used = (part: 'cap' | 'housing') =>
    event.kind === 'seen' &&
    Object.values(models).some((model) => event.seen.partsUsed[model.parts[part]] !== undefined);
  const parts: string[] = [];
  const fitted = event.kind === 'seen' ? event.seen.fitted : event;
  if (event.kind === 'installed') parts.push(say('done.installed'));
  if (event.kind === 'replaced') parts.push(say('done.replaced', { why: event.why || say('not recorded') }));
  if (event.kind === 'seen' && event.seen.yearlyServiceDone) parts.push(say('done.yearly'));
  if (event.kind === 'seen' && event.seen.cleanedOut && !event.seen.yearlyServiceDone)
    parts.push(say('done.cleaned'));
  if (fitted.monitors > 0) parts.push(say('done.fitted.monitor', { n: fitted.monitors }));
  const grams = event.application?.grams ?? null;
  if (grams !== null) parts.push(say('done.fitted.bait', { amount: massInWords(grams, say) }));
  else if (fitted.baits > 0) parts.push(say('done.fitted.bait.unweighed'));
  if (event.kind === 'seen')
    for (const repair of event.seen.repairs) parts.push(say(`done.repair.${repair}`));
  if (used('housing')) parts.push(say('done.housing'));
  if (used('cap')) parts.push(say('done.cap'));
  if (event.kind === 'seen' && event.seen.withdrawn > 0)
    parts.push(say('done.withdrawn', { n: event.seen.withdrawn }));
  return parts;
}
