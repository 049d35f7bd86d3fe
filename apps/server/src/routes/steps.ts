import { z } from '@hono/zod-openapi';
import {
  BAIT_LEFT,
  HOUSING_CONDITIONS,
  INSERTS,
  MONITOR_CONDITIONS,
  OCCUPANTS,
  STEP_IDS,
  stepsFor,
  TASKS,
  TERMITE_FINDINGS,
} from '@sillwatch/trade';
import { EVERY_ROLE } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import { modelsOf, profileOf } from '../work/firm.ts';
import { cautionWords, tellWords } from '../work/words.ts';
import { getProperty } from './properties.ts';
import { list } from './schemas.ts';

export const findingSchema = z
  .discriminatedUnion('reach', [
    z.object({
      reach: z.literal('opened'),
      termites: z.enum(TERMITE_FINDINGS),
      baitLeft: z.enum(BAIT_LEFT),
      monitor: z.enum(MONITOR_CONDITIONS),
      housing: z.enum(HOUSING_CONDITIONS),
      occupants: z.enum(OCCUPANTS),
    }),
    z.object({ reach: z.enum(['not found', 'blocked']), why: z.string().max(2000) }),
  ])
  .openapi('Finding');

const parts = z.record(z.string(), z.number());
const worded = z.object({ key: z.string(), words: z.string() });

const stepsSchema = z
  .object({
    steps: list(
      z.object({
        id: z.enum(STEP_IDS),
        /** which table and row asked for it, and why */
        table: z.string(),
        row: z.string(),
        reason: z.string(),
        slot: z.string().nullable(),
        insert: z.enum(INSERTS).nullable(),
        parts,
      }),
    ),
    partsUsed: parts,
    baitGrams: z.number(),
    carriedOver: z.boolean(),
    yearlyServiceDone: z.boolean(),
    /** the housing is dug out at this look; `station seen` alone records it (decision 0013) */
    housingReplaced: z.boolean(),
    countsAsHit: z.boolean(),
    countsAsFeeding: z.boolean(),
    auxiliaryStations: z.number(),
    replacementAsked: z.boolean(),
    next: z.enum(['check', 'baited check', 'missed station', 'replacement']),
    tell: list(worded),
    cautions: list(worded),
    fired: list(z.object({ table: z.string(), row: z.string(), reads: z.string() })),
  })
  .openapi('Steps');

export function addStepRoutes(app: App, services: Services): void {
  const { ledger } = services;
  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/steps',
      tag: 'work',
      summary: 'What to do at this station now, with the rows that say so; records nothing',
      roles: EVERY_ROLE,
      body: z.object({
        property: z.string().min(1),
        station: z.string().min(1),
        task: z.enum(TASKS),
        finding: findingSchema,
      }),
      result: stepsSchema,
    },
    async ({ person, body }) => {
      const property = await getProperty(services, person.firm, body.property);
      const state = property.stations.find(({ station }) => station === body.station);
      if (state === undefined) throw new Problem('not found', 'The property has no such station.');
      const firm = await ledger.getFirm(person.firm);
      const profile = profileOf(property, firm);
      if (profile === undefined)
        throw new Problem('no label profile', 'Steps depend on the numbers of the label.');
      const model = modelsOf(firm)[state.model];
      if (model === undefined) {
        throw new Problem(
          'not found',
          `The firm has no station model "${state.model}"; record "model set" first.`,
        );
      }
      const steps = stepsFor({ state, model, finding: body.finding, task: body.task, profile });
      return { ...steps, tell: steps.tell.map(tellWords), cautions: steps.cautions.map(cautionWords) };
    },
  );
}
