import {
  findMoment,
  type PropertyState,
  type RoundBody,
  type RoundVisit,
  type WorkKind,
} from '@sillwatch/trade';
import { type PaperLanguage, type Say, sayIn } from '../report/words/say.ts';
import type { Feed, FeedEvent } from './feed.ts';

export interface RoundFeedInput {
  readonly personName: string;
  /** Of this person only: the caller chooses. */
  readonly rounds: readonly RoundBody[];
  readonly properties: ReadonlyMap<string, PropertyState>;
  readonly stampMs: number;
  readonly lang?: PaperLanguage;
}

/**
 * A technician's rounds as a feed. It leaves the house for whatever calendar subscribes, so it tells where and what, and keeps
 * back what opens a gate: no access notes, no hazards, no name and no telephone of a customer (docs/decisions/0171).
 */
export function roundFeed(input: RoundFeedInput): Feed {
  const say = sayIn(input.lang ?? 'en-US');
  return {
    name: say('calendar.round', { person: input.personName }),
    lang: say.lang,
    stampMs: input.stampMs,
    events: input.rounds.flatMap((round) =>
      round.visits.flatMap((visit) => eventOf(visit, input.properties.get(visit.property), say)),
    ),
  };
}

function eventOf(visit: RoundVisit, property: PropertyState | undefined, say: Say): readonly FeedEvent[] {
  const start = findMoment(visit.startsAt);
  const end = findMoment(visit.endsAt);
  if (start === undefined || end === undefined) return [];
  const address = property?.body?.address;
  const name = property?.body?.name ?? say('worklist.property.gone', { id: visit.property });
  const stations = new Set(visit.works.map(({ station }) => station));
  const feeding = (property?.stations ?? []).filter(
    (state) => stations.has(state.station) && state.phase === 'feeding',
  ).length;
  const works = Map.groupBy(visit.works, ({ work }) => work);
  return [
    {
      id: `visit-${visit.visit}`,
      when: { kind: 'timed', startMs: start.epochMs, endMs: Math.max(end.epochMs, start.epochMs) },
      summary: say('calendar.visit', {
        property: name,
        work: say('calendar.stations', { n: stations.size }),
      }),
      description: [
        ...[...works].map(([work, list]) => workInWords(work, list.length, say)),
        ...(visit.asks.length === 0 ? [] : [say('calendar.asks', { n: visit.asks.length })]),
        ...(feeding === 0 ? [] : [say('calendar.feeding', { n: feeding })]),
        say('calendar.look'),
      ].join('\n'),
      location:
        address === undefined
          ? null
          : `${address.street}, ${address.town}, ${address.state} ${address.postcode}`,
      isTentative: false,
    },
  ];
}

function workInWords(work: WorkKind, n: number, say: Say): string {
  return say('calendar.work', { work: say(`work.${work}`), n });
}
