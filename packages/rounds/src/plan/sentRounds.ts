import {
  type AnyFact,
  type FactBodies,
  type RoundBody,
  resolveFacts,
  type StandingFact,
} from '@sillwatch/trade';
import { compareKeys } from '../figures/compareKeys.ts';
import { listMoves, type VisitPlace } from './moves.ts';

/** One technician's round of one day as phones have it, and how it came to be so. */
export interface SentRound {
  /** No visits = it was called off. */
  readonly round: RoundBody;
  /** When it was first sent out as it is now: RFC 3339, by the clock of who sent it. */
  readonly sentAt: string;
  /** Account id. */
  readonly by: string;
  /** Different forms in which it was sent out, the present one included. */
  readonly forms: number;
  /** Visits that another form before this one had elsewhere, at another time, or not at all; empty for the first form. */
  readonly came: readonly SentChange[];
  /** Visits of the form before that are not in it any more. */
  readonly went: readonly SentChange[];
}

export interface SentChange {
  readonly visit: string;
  readonly property: string;
  /** Came: where it stood before. Went: where it stands now. null = nowhere. */
  readonly other: VisitPlace | null;
}

type Sending = StandingFact & { readonly body: FactBodies['round published'] };

/** From the facts of `ROUND_KINDS` and their corrections: every round ever sent out, by day and then by person. */
export function listSentRounds(facts: Iterable<AnyFact>): readonly SentRound[] {
  const sendings = resolveFacts(facts).standing.filter(isSending);
  const byRound = new Map<string, Sending[]>();
  /** Where each visit stood, one place after the other, with the number of the sending. */
  const places = new Map<string, { readonly at: number; readonly place: VisitPlace }[]>();
  const formAt = new Map<Sending, number>();
  sendings.forEach((sending, at) => {
    const { body } = sending;
    const forms = byRound.get(keyOf(body)) ?? [];
    byRound.set(keyOf(body), forms);
    const last = forms.at(-1);
    if (last !== undefined && isSameForm(last.body, body)) return;
    forms.push(sending);
    formAt.set(sending, at);
    for (const { visit, startsAt } of body.visits) {
      const stood = places.get(visit) ?? [];
      places.set(visit, stood);
      stood.push({ at, place: { day: body.day, person: body.person, startsAt } });
    }
  });
  const latest = new Map(
    [...byRound].flatMap(([key, forms]) => {
      const last = forms.at(-1);
      return last === undefined ? [] : [[key, last] as const];
    }),
  );

  return [...byRound.values()]
    .flatMap((forms): readonly SentRound[] => {
      const now = forms.at(-1);
      const before = forms.at(-2);
      if (now === undefined) return [];
      const at = formAt.get(now) ?? 0;
      const changes = before === undefined ? [] : listMoves([before.body], [now.body]).moved;
      return [
        {
          round: now.body,
          sentAt: now.fact.at,
          by: now.fact.by,
          forms: forms.length,
          came: changes
            .filter(({ after }) => after !== null)
            .map(({ visit, property, before: was }) => ({
              visit,
              property,
              other: was ?? stoodBefore(visit, at),
            })),
          went: changes
            .filter(({ after }) => after === null)
            .map(({ visit, property }) => ({ visit, property, other: standsNow(visit) })),
        },
      ];
    })
    .sort((a, b) => compareKeys(a.round.day, b.round.day) || compareKeys(a.round.person, b.round.person));

  function stoodBefore(visit: string, at: number): VisitPlace | null {
    return places.get(visit)?.findLast((one) => one.at < at)?.place ?? null;
  }

  function standsNow(visit: string): VisitPlace | null {
    const last = places.get(visit)?.at(-1);
    if (last === undefined) return null;
    // A later form of the round where it stood last may not have it any more.
    const holder = latest.get(keyOf(last.place));
    return holder?.body.visits.some((one) => one.visit === visit) === true ? last.place : null;
  }
}

function isSending(one: StandingFact): one is Sending {
  return one.kind === 'round published';
}

function keyOf({ day, person }: Pick<RoundBody, 'day' | 'person'>): string {
  return `${day} ${person}`;
}

/** Sent out again without a change that anybody on the road would notice. */
function isSameForm(a: RoundBody, b: RoundBody): boolean {
  return (
    a.visits.length === b.visits.length &&
    a.visits.every((visit, index) => {
      const other = b.visits[index];
      return (
        visit.visit === other?.visit && visit.startsAt === other.startsAt && visit.frozen === other.frozen
      );
    })
  );
}
