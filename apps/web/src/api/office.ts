import type { AnyFact, FactBodies, FactKind, PartBody, SoilNumbers, TechnicianBody } from '@sillwatch/trade';
import { useQuery } from '@tanstack/react-query';
import { takeStamp } from '../shared/device.ts';
import { getJson, postJson } from './client.ts';
import type { Me, Role, Verdict } from './types.ts';

export interface OfficeAnswer {
  readonly technicians: readonly TechnicianBody[];
  /** `fact` names the entry, so that it can be withdrawn */
  readonly away: readonly (FactBodies['technician away'] & { readonly fact: string })[];
  readonly closed: readonly (FactBodies['branch closed'] & { readonly fact: string })[];
  readonly parts: readonly PartBody[];
  /** by branch; off where it is missing */
  readonly soilSeasons: Readonly<Record<string, SoilNumbers>>;
}

export function useOffice() {
  return useQuery({ queryKey: ['office'], queryFn: () => getJson<OfficeAnswer>('/api/office') });
}

export interface ListedPerson {
  readonly id: string;
  readonly email: string;
  readonly name: string;
  readonly role: Role;
  readonly branch: string | null;
  readonly licenceNumber: string | null;
  readonly certificationNumber: string | null;
  readonly twoFactor: boolean;
  readonly removedAt: string | null;
}

export function useListedPeople() {
  return useQuery({
    queryKey: ['listed people'],
    queryFn: async () => {
      const { people } = await getJson<{ readonly people: readonly ListedPerson[] }>('/api/people');
      return people;
    },
  });
}

/** A fact was not taken; the reason is the server's sentence, the code its name for it. */
export class FactRefusedError extends Error {
  readonly code: string;
  constructor({ code, detail }: { readonly code: string; readonly detail: string }) {
    super(detail);
    this.code = code;
  }
}

/** Records one fact from this browser. Throws FactRefusedError with the reason when it is not taken. */
export async function recordFact<K extends FactKind>(
  me: Me,
  subject: { readonly property: string | null; readonly station: string | null },
  kind: K,
  body: FactBodies[K],
): Promise<AnyFact> {
  const fact: AnyFact = { ...takeStamp(), firm: me.firm.id, ...subject, by: me.id, kind, body };
  const { verdicts } = await postJson<{ readonly verdicts: readonly Verdict[] }>('/api/facts', {
    facts: [fact],
  });
  for (const verdict of verdicts) if (verdict.verdict === 'refused') throw new FactRefusedError(verdict);
  return fact;
}

const OF_THE_FIRM = { property: null, station: null } as const;

export function recordOfFirm<K extends FactKind>(me: Me, kind: K, body: FactBodies[K]): Promise<AnyFact> {
  return recordFact(me, OF_THE_FIRM, kind, body);
}

/** Says an entry of the firm anew, whole; what was said before stays readable. */
export function correctOfFirm<K extends FactKind>(
  me: Me,
  fact: string,
  _kind: K,
  body: FactBodies[K],
  why: string,
): Promise<AnyFact> {
  return recordOfFirm(me, 'fact corrected', { corrects: fact, why, body, at: null });
}

/** Takes back an entry of the firm; it stays readable with the reason. */
export function withdrawOfFirm(me: Me, fact: string, why: string): Promise<AnyFact> {
  return recordOfFirm(me, 'fact corrected', { corrects: fact, why, body: null, at: null });
}
