import { type Application, baitSlotsOf, findMoment, type StationSeenBody } from '@sillwatch/trade';
import { type Saying, textOf } from '../desk/property/history.ts';
import type { daysIn } from '../words/days.ts';
import type { Words } from '../words/index.ts';

/** One thing that a correction made different, as it reads on a screen. */
export interface Change {
  readonly label: string;
  readonly was: string;
  readonly now: string;
}

type Days = ReturnType<typeof daysIn>;

/** What two sayings of one entry read differently; nothing for kinds whose bodies have no words here. */
export function listChanges(
  kind: string,
  before: Saying,
  after: Saying,
  w: Words,
  days: Days,
): readonly Change[] {
  if (before.body === null || after.body === null) return [];
  const was = linesOf(kind, before, w, days);
  const now = linesOf(kind, after, w, days);
  return [...new Set([...was.keys(), ...now.keys()])].flatMap((label): readonly Change[] => {
    const one = { label, was: was.get(label) ?? w.app.none, now: now.get(label) ?? w.app.none };
    return one.was === one.now ? [] : [one];
  });
}

/** Each line of an entry by its label; what is empty has no line. */
function linesOf(kind: string, { body, at }: Saying, w: Words, days: Days): ReadonlyMap<string, string> {
  const { labels } = w.changes;
  const day = findMoment(at)?.day;
  const lines: readonly (readonly [string, string])[] = [
    [labels.day, day === undefined ? w.app.notKnown : days.plain(day)],
    ...(kind === 'note added' ? [[labels.text, textOf(body, 'text')] as const] : []),
    ...(kind === 'visit closed' ? [[labels.note, textOf(body, 'note')] as const] : []),
    // A body that stands was checked against its kind.
    ...(kind === 'station seen' ? seenLines(body as StationSeenBody, w) : []),
    ...(kind === 'station installed' || kind === 'station replaced' ? recordLines(body, w) : []),
  ];
  return new Map(lines.filter(([, said]) => said !== ''));
}

function seenLines(body: StationSeenBody, w: Words): readonly (readonly [string, string])[] {
  const { finding, work, application } = body;
  const { labels, yes } = w.changes;
  const slots = (ids: readonly string[]) => ids.map((id) => w.changes.slots[id] ?? id).join(', ');
  return [
    [labels.task, w.tasks[body.task]],
    [labels.reach, w.reaches[finding.reach]],
    ...(finding.reach === 'opened'
      ? ([
          [labels.termites, w.termites[finding.termites]],
          [labels.baitLeft, w.baitLeft[finding.baitLeft]],
          [labels.monitor, w.monitors[finding.monitor]],
          [labels.housing, w.housings[finding.housing]],
          [labels.occupants, w.occupants[finding.occupants]],
        ] as const)
      : ([[labels.why, finding.why]] as const)),
    [labels.service, work.yearlyServiceDone ? yes : ''],
    [labels.lifted, work.baseMonitorLifted ? yes : ''],
    [labels.cleaned, work.cleanedOut ? yes : ''],
    [labels.bait, slots(baitSlotsOf(work))],
    [
      labels.monitors,
      slots(work.fitted.filter(({ insert }) => insert === 'monitor').map(({ slot }) => slot)),
    ],
    [labels.withdrawn, slots(work.withdrawn)],
    [labels.repairs, (work.repairs ?? []).map((repair) => w.steps[repair]).join(', ')],
    [
      labels.parts,
      Object.entries(work.partsUsed)
        .map(([part, count]) => `${count} × ${w.parts[part] ?? part}`)
        .join(', '),
    ],
    [labels.minutes, work.minutes === null ? '' : String(work.minutes)],
    ...(application === null ? [] : applicationLines(application, w)),
    [labels.elsewhere, body.recordKeptElsewhere ?? ''],
    [labels.note, body.note],
    [labels.photos, body.photos.length === 0 ? '' : String(body.photos.length)],
  ];
}

function recordLines(body: unknown, w: Words): readonly (readonly [string, string])[] {
  const { application } = body as { readonly application: Application | null };
  return application === null ? [] : applicationLines(application, w);
}

function applicationLines(application: Application, w: Words): readonly (readonly [string, string])[] {
  const { record } = w;
  return [
    [record.product, application.productName],
    [record.registration, application.epaRegistrationNumber],
    [record.grams, Number.isFinite(application.grams) ? String(application.grams) : ''],
    [record.location, application.location],
    [record.area, application.areaTreated],
    [record.site, application.site],
    [record.applicator, application.applicatorName],
    [record.certificate, application.certificationNumber],
    [record.supervised, application.appliedUnderSupervisionBy ?? ''],
  ];
}
