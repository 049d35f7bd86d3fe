import { z } from '@hono/zod-openapi';
import { listEveryFact } from '@sillwatch/ledger';
import { CORRECTION, type FactBodies, resolveFacts, type StandingFact } from '@sillwatch/trade';
import { OFFICE } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { type App, addRoute } from '../http/route.ts';
import { dayText, list } from './schemas.ts';

const place = z.object({ latitude: z.number(), longitude: z.number() });
const technician = z
  .object({
    person: z.string(),
    name: z.string(),
    branch: z.string(),
    licenceNumber: z.string().nullable(),
    start: place,
    end: place,
    hours: list(z.object({ weekday: z.number().int(), from: z.string(), to: z.string() })),
    breakMinutes: z.number(),
    mostOvertimeMinutes: z.number(),
    skills: list(z.string()),
    active: z.boolean(),
  })
  .openapi('Technician');
/** `fact` names the entry, so that it can be withdrawn by a correction. */
const away = z.object({
  fact: z.string(),
  person: z.string(),
  from: dayText,
  to: dayText,
  why: z.string(),
});
const closed = z.object({
  fact: z.string(),
  branch: z.string(),
  from: dayText,
  to: dayText,
  why: z.string(),
});
const part = z.object({
  part: z.string(),
  name: z.string(),
  packSize: z.number(),
  leadDays: z.number(),
  baitGrams: z.number().nullable(),
});

/** Degrees Celsius, metres, square millimetres a second; the coldest day as `MM-DD`. */
const soilNumbers = z.object({
  meanCelsius: z.number(),
  amplitudeCelsius: z.number(),
  coldestOn: z.string(),
  depthMetres: z.number(),
  diffusivityMm2PerSecond: z.number(),
  forageFromCelsius: z.number(),
  source: z.string(),
});

const DAY_KINDS = ['technician away', 'branch closed'] as const;
type DayFact = {
  readonly [K in (typeof DAY_KINDS)[number]]: StandingFact & {
    readonly kind: K;
    readonly body: FactBodies[K];
  };
}[(typeof DAY_KINDS)[number]];

function isDayFact(one: StandingFact): one is DayFact {
  return DAY_KINDS.some((kind) => kind === one.kind);
}

/** What the office plans with: who drives and when, when nobody does, and what is carried. */
export function addOfficeRoutes(app: App, services: Services): void {
  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/office',
      tag: 'work',
      summary: 'Technicians with hours and homes, absences, closed days, parts and soil seasons',
      roles: OFFICE,
      result: z.object({
        technicians: list(technician),
        away: list(away),
        closed: list(closed),
        parts: list(part),
        /** by branch; one that is missing has it off */
        soilSeasons: z.record(z.string(), soilNumbers),
      }),
    },
    async ({ person }) => {
      const { ledger } = services;
      const [firm, facts] = await Promise.all([
        ledger.getFirm(person.firm),
        listEveryFact(ledger, person.firm, { kinds: [...DAY_KINDS, CORRECTION] }),
      ]);
      const days = resolveFacts(facts.filter(({ property }) => property === null)).standing.filter(isDayFact);
      return {
        technicians: Object.values(firm.technicians),
        away: days.flatMap(({ fact, kind, body }) =>
          kind === 'technician away' ? [{ fact: fact.id, ...body }] : [],
        ),
        closed: days.flatMap(({ fact, kind, body }) =>
          kind === 'branch closed' ? [{ fact: fact.id, ...body }] : [],
        ),
        parts: Object.values(firm.parts),
        soilSeasons: firm.soilSeasons,
      };
    },
  );
}
