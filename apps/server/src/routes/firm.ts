import { z } from '@hono/zod-openapi';
import { INSERTS } from '@sillwatch/trade';
import { EVERY_ROLE } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { type App, addRoute } from '../http/route.ts';
import { modelsOf } from '../work/firm.ts';
import { list } from './schemas.ts';

const shift = z.object({ months: z.number().int(), days: z.number().int() });
const windowRule = z.object({ earliest: shift, target: shift, latest: shift });
function sourced<T extends z.ZodType>(value: T) {
  return z.object({ value, source: z.string(), invented: z.boolean() });
}

export const labelProfile = z
  .object({
    id: z.string(),
    name: z.string(),
    invented: z.boolean(),
    product: z.object({
      name: z.string(),
      epaRegistrationNumber: z.string(),
      activeIngredient: z.string(),
      activeIngredientPercent: z.number(),
    }),
    firstCheck: sourced(windowRule),
    check: sourced(windowRule),
    baitedCheck: sourced(windowRule),
    yearlyService: sourced(windowRule),
    carriedOverService: sourced(windowRule),
    missedStation: sourced(windowRule),
    missesBeforeReplacement: sourced(z.number()),
    addBaitAtOrUnder: sourced(z.number()),
    baitGramsPerInsert: sourced(z.number()),
    idleBait: sourced(z.enum(['stays', 'renewed', 'withdrawn'])),
    clearBait: sourced(z.enum(['stays', 'withdrawn'])),
    clearAfterChecks: sourced(z.number()),
    auxiliaryStations: sourced(z.number()),
    monitorWithSigns: sourced(z.enum(['kept', 'renewed'])),
    greatestSpacingMetres: sourced(z.number()),
    setbackMetres: sourced(z.object({ nearest: z.number(), farthest: z.number() })),
    treatedSoilClearanceMetres: sourced(z.number()),
    concernDistanceMetres: sourced(z.number()),
  })
  .openapi('LabelProfile');

const part = z.string().nullable();
const stationModel = z
  .object({
    id: z.string(),
    name: z.string(),
    layout: z.enum(['two-part monitor', 'one-part monitor', 'always baited']),
    slots: list(
      z.object({ id: z.string(), label: z.string(), holds: list(z.enum(INSERTS)), isBase: z.boolean() }),
    ),
    parts: z.object({
      baseMonitor: part,
      topMonitor: part,
      bait: part,
      cap: z.string(),
      housing: z.string(),
    }),
  })
  .openapi('StationModel');

/** What the firm's own facts say. They are recorded with POST /api/facts like everything else. */
export function addFirmRoutes(app: App, services: Services): void {
  const { ledger } = services;

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/branches',
      tag: 'work',
      summary: "The firm's branches",
      roles: EVERY_ROLE,
      result: z.object({
        branches: list(z.object({ branch: z.string(), name: z.string(), timeZone: z.string() })),
      }),
    },
    async ({ person }) => ({ branches: Object.values((await ledger.getFirm(person.firm)).branches) }),
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/profiles',
      tag: 'work',
      summary: "The firm's label profiles, every number with its source",
      roles: EVERY_ROLE,
      result: z.object({ profiles: list(labelProfile) }),
    },
    async ({ person }) => ({ profiles: Object.values((await ledger.getFirm(person.firm)).profiles) }),
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/models',
      tag: 'work',
      summary: 'The kinds of station: those every firm has, and its own',
      roles: EVERY_ROLE,
      result: z.object({ models: list(stationModel) }),
    },
    async ({ person }) => ({ models: Object.values(modelsOf(await ledger.getFirm(person.firm))) }),
  );
}
