import type { Finding } from '@sillwatch/trade';
import { textOf } from '../desk/property/history.ts';
import type { Words } from '../words/index.ts';

/** What a record says, in one or two plain sentences. */
export function factWords(kind: string, body: unknown, w: Words): string {
  if (typeof body !== 'object' || body === null) return w.station.withdrawn;
  const h = w.history;
  switch (kind) {
    case 'station installed':
      return h.installed;
    case 'station seen':
      return seenWords(body, w);
    case 'station moved':
      return h.moved(textOf(body, 'why'));
    case 'station tagged':
      return h.tagged(textOf(body, 'tag'));
    case 'station replaced':
      return h.replaced(textOf(body, 'why'));
    case 'station removed':
      return h.removed(textOf(body, 'why'));
    case 'note added':
      return textOf(body, 'text');
    default:
      return h.unknown(kind);
  }
}

function seenWords(body: object, w: Words): string {
  const task = textOf(body, 'task') === 'yearly service' ? w.tasks['yearly service'] : w.tasks.check;
  if (!('finding' in body) || !isFinding(body.finding)) return task;
  const { finding } = body;
  if (finding.reach !== 'opened') return `${task}: ${w.reaches[finding.reach]}. ${finding.why}`;
  const done = 'work' in body ? workWords(body.work, w) : [];
  const seen = [
    w.history.termites[finding.termites],
    ...(finding.baitLeft === 'no bait' ? [] : [w.history.bait(w.baitLeft[finding.baitLeft])]),
    ...(finding.monitor === 'sound' || finding.monitor === 'no monitor'
      ? []
      : [w.history.monitor(w.monitors[finding.monitor])]),
    ...(finding.housing === 'sound' ? [] : [w.housings[finding.housing].toLocaleLowerCase()]),
    ...(finding.occupants === 'none' ? [] : [w.occupants[finding.occupants].toLocaleLowerCase()]),
  ];
  return `${task}: ${[...seen, ...done].join(', ')}.`;
}

function workWords(work: unknown, w: Words): readonly string[] {
  if (typeof work !== 'object' || work === null) return [];
  return [
    ...('yearlyServiceDone' in work && work.yearlyServiceDone === true ? [w.history.serviced] : []),
    ...('fitted' in work && Array.isArray(work.fitted) && work.fitted.some(isBait) ? [w.history.baitIn] : []),
  ];
}

function isBait(fitted: unknown): boolean {
  return typeof fitted === 'object' && fitted !== null && 'insert' in fitted && fitted.insert === 'bait';
}

function isFinding(value: unknown): value is Finding {
  return typeof value === 'object' && value !== null && 'reach' in value;
}
