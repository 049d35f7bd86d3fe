import { z } from '@hono/zod-openapi';
import { reckonedSchema } from '../reckon/reckonedAnswer.ts';
import { dayText, list } from './schemas.ts';

const n = z.number();
const count = n.int();

/** What a request for a load or a stock brings; `reckoning` = ask again in a moment. */
function reckonedAs(answer: z.ZodType) {
  return reckonedSchema('answer', answer.nullable());
}

/** `published` false: no round was sent out for that person and day, or the load is a branch's. */
export const loadAnswer = reckonedAs(
  z.object({
    published: z.boolean(),
    load: z
      .object({
        visits: count,
        stations: count,
        parts: list(
          z.object({
            part: z.string(),
            name: z.string(),
            /** used where nothing unusual is found */
            certain: n,
            expected: n,
            take: count,
            /** chance that `take` is not enough */
            chanceShort: n,
            /** chance that 0, 1, 2, … are used */
            counts: list(n),
            why: list(z.object({ step: z.string(), expected: n, certain: n, stations: count })),
          }),
        ),
        chanceAnyShort: n,
        tools: list(z.object({ tool: z.string(), chance: n })),
        expectedLive: n,
        expectedMissed: n,
        leftOut: list(z.object({ property: z.string(), station: z.string(), why: z.string() })),
      })
      .nullable(),
    withoutProfile: list(z.string()),
  }),
);

export const stockAnswer = reckonedAs(
  z.object({
    /** the branch, then the trucks (account ids of who drives them) */
    places: list(z.object({ place: z.string(), name: z.string() })),
    lines: list(
      z.object({
        place: z.string(),
        part: z.string(),
        lot: z.string().nullable(),
        count,
        usableUntil: dayText.nullable(),
        countedOn: dayText.nullable(),
      }),
    ),
    /** ordered for these places and not all come, the first expected on top */
    orders: list(
      z.object({
        order: z.string(),
        /** the entry that recorded it, to correct it by */
        fact: z.string(),
        place: z.string(),
        part: z.string(),
        count,
        orderedOn: dayText,
        expectedOn: dayText,
        reference: z.string(),
        came: count,
        open: count,
        cancelled: z.string().nullable(),
        isLate: z.boolean(),
      }),
    ),
    parts: list(
      z.object({
        part: z.string(),
        name: z.string(),
        onHand: count,
        onOrder: count,
        expired: count,
        expiring: z.object({ count, firstOn: dayText }).nullable(),
        leadDays: n,
        packSize: n,
        expectedOverLead: n,
        reorderPoint: count,
        orderUpTo: count,
        orderNow: count,
        riskNow: n,
        neverCounted: list(z.string()),
      }),
    ),
    withoutLeadTime: list(z.object({ part: z.string(), name: z.string(), expectedOverReview: n })),
  }),
);
