import { z } from '@hono/zod-openapi';
import {
  BROKEN_RULES,
  LATE_REASONS,
  MOVE_KINDS,
  RELEASE_REASONS,
  UNPLANNED_REASONS,
} from '@sillwatch/rounds';
import { TRAVEL_SOURCES, WORKS } from '@sillwatch/trade';
import { JOB_STATES } from '../plans/planStore.ts';
import { dayText, list } from './schemas.ts';

const moment = z.string().openapi({ format: 'date-time' });
const stationWork = z.object({ station: z.string(), work: z.enum(WORKS) });

export const roundSchema = z
  .object({
    plan: z.string(),
    branch: z.string(),
    person: z.string(),
    day: dayText,
    startsAt: moment,
    endsAt: moment,
    breakMinutes: z.number(),
    travel: z.enum(TRAVEL_SOURCES),
    visits: list(
      z.object({
        visit: z.string(),
        property: z.string(),
        startsAt: moment,
        endsAt: moment,
        driveMinutes: z.number(),
        driveMetres: z.number(),
        works: list(stationWork),
        asks: list(z.string()),
        frozen: z.boolean(),
      }),
    ),
  })
  .openapi('Round');

const totals = z
  .object({
    rounds: z.number(),
    visits: z.number(),
    unplannedVisits: z.number(),
    driveMetres: z.number(),
    driveMinutes: z.number(),
    workMinutes: z.number(),
    waitMinutes: z.number(),
    breakMinutes: z.number(),
    overtimeMinutes: z.number(),
    lateWorks: z.number(),
    lateBefore: z.number(),
    otherPerson: z.number(),
  })
  .openapi('PlanTotals');

/** What would make room; the fields beside `kind` depend on it. */
const remedy = z
  .object({
    kind: z.enum([
      'overtime',
      'another day',
      'a day more',
      'give up the hours',
      'another technician',
      'a skill',
      'one technician more',
      'enter its position',
      'enter its label profile',
    ]),
    person: z.string().optional(),
    day: dayText.optional(),
    minutes: z.number().optional(),
    daysOutside: z.number().optional(),
    startsAt: moment.optional(),
    skills: list(z.string()).optional(),
    costMinutes: z.number().optional(),
  })
  .openapi('Remedy');

const brokenRule = z.object({
  rule: z.enum(BROKEN_RULES),
  person: z.string(),
  day: dayText,
  property: z.string().nullable(),
  minutes: z.number().nullable(),
});

const visitPlace = z.object({ day: dayText, person: z.string(), startsAt: moment });
const movedVisit = z.object({
  visit: z.string(),
  property: z.string(),
  kinds: list(z.enum(MOVE_KINDS)),
  before: visitPlace.nullable(),
  after: visitPlace.nullable(),
  wasFrozen: z.boolean(),
});

export const branchPlan = z
  .object({
    plan: z.string(),
    branch: z.string(),
    timeZone: z.string(),
    from: dayText,
    to: dayText,
    travel: z.enum(TRAVEL_SOURCES),
    rounds: list(roundSchema),
    people: list(z.object({ person: z.string(), name: z.string() })),
    unplanned: list(
      z.object({
        property: z.string(),
        works: list(stationWork),
        asks: list(z.string()),
        reason: z.enum(UNPLANNED_REASONS),
        earliest: dayText.nullable(),
        latest: dayText.nullable(),
        visit: z.string().nullable(),
        /** what a move takes as `visit` to pull it into a round; absent where nothing could be asked for */
        key: z.string().optional(),
        remedies: list(remedy).nullable(),
      }),
    ),
    late: list(
      z.object({
        property: z.string(),
        station: z.string(),
        work: z.enum(WORKS),
        latest: dayText,
        plannedOn: dayText.nullable(),
        wasLate: z.boolean(),
        /** absent in plans made before reasons were sought */
        why: z.enum(LATE_REASONS).optional(),
        /** null = not sought */
        remedies: list(remedy).nullable().optional(),
      }),
    ),
    released: list(
      z.object({
        property: z.string(),
        visit: z.string().nullable(),
        what: z.enum(['frozen visit', 'promise']),
        day: dayText,
        person: z.string().nullable(),
        why: z.enum(RELEASE_REASONS),
      }),
    ),
    broken: list(brokenRule),
    totals,
  })
  .openapi('BranchPlan');

export const comparison = z
  .object({
    plan: totals,
    byHand: totals,
    last: totals.nullable(),
    moves: z
      .object({
        moved: list(movedVisit),
        kept: z.number(),
        counts: z.record(z.enum(MOVE_KINDS), z.number()),
        costMinutes: z.number(),
      })
      .nullable(),
  })
  .openapi('PlanComparison');

const progress = z.object({
  elapsedSeconds: z.number(),
  share: z.number(),
  iterations: z.number(),
  costMinutes: z.number(),
  rounds: z.number(),
  visits: z.number(),
  unplannedVisits: z.number(),
  driveMinutes: z.number(),
});

export const jobSchema = z
  .object({
    id: z.string(),
    branch: z.string(),
    state: z.enum(JOB_STATES),
    /** goes up with every change; wait for the next with `after` */
    version: z.number().int(),
    from: dayText,
    days: z.number().int(),
    seconds: z.number(),
    seed: z.number().int(),
    askedBy: z.string(),
    askedAt: moment,
    endedAt: moment.nullable(),
    progress: progress.nullable(),
    /** why it failed or was stopped, in words */
    why: z.string().nullable(),
    publishedAt: moment.nullable(),
    /** changed since it was sent out */
    changedSince: z.boolean(),
    frozen: list(z.string()),
  })
  .openapi('PlanJob');

export const planAnswer = jobSchema
  .extend({
    /** null while it is made and when it failed */
    plan: branchPlan.nullable(),
    comparison: comparison.nullable(),
    /** how travel fell back, in words */
    notes: list(z.string()),
  })
  .openapi('Plan');

export const moveResult = z
  .object({
    visit: z.string(),
    property: z.string(),
    driveMinutes: z.number(),
    driveMetres: z.number(),
    overtimeMinutes: z.number(),
    costMinutes: z.number(),
    due: z.object({ standing: z.enum(['too early', 'in its window', 'late']), days: z.number() }),
    broken: list(brokenRule),
    moved: list(movedVisit),
    rounds: list(roundSchema),
  })
  .openapi('MoveResult');
