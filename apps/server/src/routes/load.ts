import { z } from '@hono/zod-openapi';
import { addDays, type Day, type FirmState } from '@sillwatch/trade';
import { RECORDERS } from '../accounts/roles.ts';
import type { Person } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import type { LoadAsked } from '../reckon/loadAnswers.ts';
import { PATIENCE_MS, toResponse } from '../reckon/reckonedAnswer.ts';
import { createToday, readDay } from '../work/days.ts';
import type { FigureServices } from './figures.ts';
import { loadAnswer, stockAnswer } from './loadSchemas.ts';
import { dayText } from './schemas.ts';

const LONGEST_DAYS = 120;
const chance = z.coerce
  .number()
  .min(0.1)
  .max(50)
  .default(5)
  .openapi({ description: 'accepted chance of running out of a part, percent' });

/** What to carry, and what a branch holds and orders. Counts, receipts and moves are facts: POST /api/facts. */
export function addLoadRoutes(app: App, services: FigureServices): void {
  const { ledger, deps, reckoner } = services;

  const todayOf = (firm: FirmState, branch: string | undefined): Day => {
    const of = branch === undefined ? Object.values(firm.branches)[0] : firm.branches[branch];
    return createToday(deps.now()).inZone(of?.timeZone ?? 'UTC');
  };

  async function answer(person: Person, asked: LoadAsked, asOf: Day, schema: z.ZodType): Promise<Response> {
    const reckoned = await reckoner.ask(person.firm, { name: 'load', asked, asOf }, PATIENCE_MS);
    return toResponse(reckoned, 'answer', asOf, deps.log, services.checkAnswers ? schema : null);
  }

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/load',
      tag: 'work',
      summary: "What to carry: for a person's published round of a day, or for a branch over some days",
      roles: RECORDERS,
      query: z.object({
        person: z.string().min(1).max(200).optional(),
        /** of the round; default: today */
        day: dayText.optional(),
        branch: z.string().min(1).optional(),
        /** default: today */
        from: dayText.optional(),
        /** inclusive; default: a week from `from` */
        to: dayText.optional(),
        chance,
      }),
      result: loadAnswer,
    },
    async ({ person, query }) => {
      const firm = await ledger.getFirm(person.firm);
      const accepted = query.chance / 100;
      if (query.person !== undefined) {
        if (person.role === 'technician' && query.person !== person.id)
          throw new Problem('not allowed', 'A technician sees the load of his own round.');
        const asOf = todayOf(firm, firm.technicians[query.person]?.branch);
        const day = query.day === undefined ? null : readDay(query.day, 'query.day');
        const seenFrom = query.person === person.id ? null : person.branch;
        const asked = { of: 'round', person: query.person, day, seenFrom, chance: accepted } as const;
        return answer(person, asked, asOf, loadAnswer);
      }
      const branch = branchFor(person, firm, query.branch);
      const asOf = todayOf(firm, branch);
      const from = query.from === undefined ? null : readDay(query.from, 'query.from');
      const to = query.to === undefined ? null : readDay(query.to, 'query.to');
      const first = from ?? asOf;
      if (to !== null && (to < first || to > addDays(first, LONGEST_DAYS)))
        throw new Problem('malformed', 'The days do not fit.', {
          errors: [
            { at: 'query.to', message: `give a day from \`from\` on, at most ${LONGEST_DAYS} days after it` },
          ],
        });
      const asked = { of: 'branch', branch: branch ?? null, from, to, chance: accepted } as const;
      return answer(person, asked, asOf, loadAnswer);
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/stock',
      tag: 'work',
      summary: 'What a branch and its trucks hold, what to order and why, lots that expire',
      roles: RECORDERS,
      query: z.object({
        /** default: the person's own, else the firm's first */
        branch: z.string().min(1).optional(),
        chance,
      }),
      result: stockAnswer,
    },
    async ({ person, query }) => {
      const firm = await ledger.getFirm(person.firm);
      const branch = branchFor(person, firm, query.branch) ?? Object.keys(firm.branches)[0];
      if (branch === undefined)
        throw new Problem('not found', 'The firm has no branch yet, so nothing holds stock.');
      const asked = { of: 'stock', branch, chance: query.chance / 100 } as const;
      return answer(person, asked, todayOf(firm, branch), stockAnswer);
    },
  );
}

/** A person bound to a branch is answered for that one only. */
function branchFor(person: Person, firm: FirmState, asked: string | undefined): string | undefined {
  if (asked !== undefined && (firm.branches[asked] === undefined || (person.branch ?? asked) !== asked))
    throw new Problem('not found', 'You have no such branch.');
  return person.branch ?? asked;
}
