import { eachFactPage } from '@sillwatch/ledger';
import { IMPORT_BACK_DEVICE, IMPORT_DEVICE } from '@sillwatch/paper';
import {
  type AnyFact,
  CORRECTION,
  type Corrections,
  clockToText,
  correctedId,
  readCorrections,
} from '@sillwatch/trade';
import type { Person, Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { momentIn } from '../links/factWriter.ts';
import { alone } from './runImport.ts';

export interface WithdrawRequest {
  /** first and last position in the ledger: `12-345` */
  readonly id: string;
  readonly why: string;
  /** also where later entries lean on what the import brought: they stay in the ledger and are passed over */
  readonly evenSo: boolean;
}

export interface WithdrawAnswer {
  readonly id: string;
  /** entries taken back now, all in one transaction */
  readonly withdrawn: number;
  /** entries that were withdrawn before */
  readonly alreadyWithdrawn: number;
  /** later entries that leaned on them and are passed over from now on */
  readonly leaning: number;
}

/** What the server and a terminal both have. */
export interface WithdrawServices {
  readonly ledger: Services['ledger'];
  readonly deps: Pick<Services['deps'], 'now' | 'newId'>;
}
export type WithdrawPerson = Pick<Person, 'id' | 'firm' | 'branch'>;

/**
 * Withdraws every fact of one import that still stands, by corrections that name why, in one transaction.
 * Throws `not found` where the stretch is no whole import, `import leaned on` or `import holds applications` where later facts
 * need what it brought.
 */
export function withdrawImport(
  services: WithdrawServices,
  person: WithdrawPerson,
  request: WithdrawRequest,
): Promise<WithdrawAnswer> {
  return alone(person.firm, () => withdrawAlone(services, person, request));
}

async function withdrawAlone(
  { ledger, deps }: WithdrawServices,
  person: WithdrawPerson,
  { id, why, evenSo }: WithdrawRequest,
): Promise<WithdrawAnswer> {
  const { first, last } = readId(id);
  const { imported, later } = await readStretch(ledger, person.firm, first, last);
  const corrections = readCorrections([...imported, ...later].filter(({ kind }) => kind === CORRECTION));
  const standing = imported.filter((fact) => !isWithdrawn(fact, corrections));
  await checkBranches(ledger, person, standing);
  const leaning = listLeaning(standing, later, corrections);
  checkLeaning(leaning, evenSo);
  const facts = correctionsOf(standing, corrections, person, deps, why);
  if (facts.length > 0) {
    const verdicts = await ledger.append(person.firm, facts, new Date(deps.now()).toISOString());
    const refused = verdicts.find(({ verdict }) => verdict === 'refused');
    if (refused !== undefined)
      throw new Error(`the ledger refused to take an import back: ${JSON.stringify(refused)}`);
  }
  return {
    id,
    withdrawn: facts.length,
    alreadyWithdrawn: imported.length - standing.length,
    leaning: leaning.length,
  };
}

function readId(id: string): { readonly first: number; readonly last: number } {
  const [, from, to] = /^([1-9]\d{0,14})-([1-9]\d{0,14})$/.exec(id) ?? [];
  const first = Number(from);
  const last = Number(to);
  if (first <= last) return { first, last };
  throw noImport(id);
}

function noImport(id: string): Problem {
  return new Problem('not found', `The firm has no import ${id}; GET /api/imports lists them.`);
}

interface Stretch {
  readonly imported: readonly AnyFact[];
  readonly later: readonly AnyFact[];
}

/** The facts from `first` to the end of the ledger. Throws `not found` unless `first` to `last` is one whole import. */
async function readStretch(
  ledger: Services['ledger'],
  firm: string,
  first: number,
  last: number,
): Promise<Stretch> {
  const imported: AnyFact[] = [];
  const later: AnyFact[] = [];
  let before: AnyFact | undefined;
  for await (const page of eachFactPage(ledger, firm, { afterSeq: Math.max(0, first - 2) })) {
    for (const fact of page) {
      const seq = fact.receipt?.seq ?? 0;
      if (seq < first) before = fact;
      else if (seq <= last) imported.push(fact);
      else later.push(fact);
    }
    const [start] = imported;
    if (start !== undefined && start.device !== IMPORT_DEVICE) break;
  }
  const [start] = imported;
  const isWhole =
    start !== undefined &&
    imported.length === last - first + 1 &&
    imported.every((fact) => isSameImport(fact, start)) &&
    !isSameImport(before, start) &&
    !isSameImport(later[0], start);
  if (!isWhole) throw noImport(`${first}-${last}`);
  return { imported, later };
}

/** One append has one time of receipt. */
export function isSameImport(a: AnyFact | undefined, b: AnyFact): boolean {
  return (
    a?.device === IMPORT_DEVICE &&
    b.device === IMPORT_DEVICE &&
    a.by === b.by &&
    a.receipt?.receivedAt === b.receipt?.receivedAt
  );
}

async function checkBranches(
  ledger: Services['ledger'],
  { firm, branch }: WithdrawPerson,
  facts: readonly AnyFact[],
): Promise<void> {
  if (branch === null) return;
  for (const property of new Set(facts.map((fact) => fact.property))) {
    const state = property === null ? undefined : await ledger.findProperty(firm, property);
    if (state?.body?.branch !== branch)
      throw new Problem('not allowed', 'The import reaches into another branch than yours.');
  }
}

function isWithdrawn(fact: AnyFact, corrections: Corrections): boolean {
  return corrections.findStanding(fact)?.body === null;
}

/** Later facts that stand on something which would no longer be there. */
function listLeaning(
  standing: readonly AnyFact[],
  later: readonly AnyFact[],
  corrections: Corrections,
): readonly AnyFact[] {
  const ids = new Set(standing.map(({ id }) => id));
  const ofKind = (kind: string): readonly AnyFact[] => standing.filter((fact) => fact.kind === kind);
  const properties = new Set(ofKind('property added').map(({ property }) => property));
  const stations = new Set(ofKind('station installed').map(({ station }) => station));
  const structures = new Set(ofKind('structure added').map(({ body }) => structureOf(body)));
  return later.filter((fact) => {
    if (fact.device === IMPORT_BACK_DEVICE || isWithdrawn(fact, corrections)) return false;
    if (fact.kind === CORRECTION) return ids.has(correctedId(fact) ?? '');
    return (
      (fact.property !== null && properties.has(fact.property)) ||
      (fact.station !== null && stations.has(fact.station)) ||
      (fact.kind === 'station installed' && structures.has(structureOf(fact.body)))
    );
  });
}

function structureOf(body: unknown): unknown {
  return typeof body === 'object' && body !== null && 'structure' in body ? body.structure : undefined;
}

const PLACES_LISTED = 20;

/** A record of pesticide must keep the place that it names, so an application forbids what other entries only ask to confirm. */
function checkLeaning(leaning: readonly AnyFact[], evenSo: boolean): void {
  if (leaning.length === 0) return;
  const applied = leaning.filter(({ body }) => hasApplication(body));
  if (evenSo && applied.length === 0) return;
  const counts = Map.groupBy(leaning, ({ kind, property }) => `${kind}\n${property ?? ''}`);
  throw new Problem(
    applied.length > 0 ? 'import holds applications' : 'import leaned on',
    applied.length > 0
      ? `${applied.length} applications of pesticide are recorded at what the import brought; their records name its ` +
          'properties and stations.'
      : `${leaning.length} later entries lean on what the import brought; they would be kept and passed over.`,
    {
      errors: [...counts].slice(0, PLACES_LISTED).map(([key, facts]) => {
        const [kind = '', property = ''] = key.split('\n');
        return { at: `property ${property}`, message: `${facts.length} × ${kind}` };
      }),
    },
  );
}

function hasApplication(body: unknown): boolean {
  if (typeof body !== 'object' || body === null) return false;
  if ('application' in body && body.application !== null && body.application !== undefined) return true;
  return 'body' in body && hasApplication(body.body);
}

function correctionsOf(
  standing: readonly AnyFact[],
  corrections: Corrections,
  person: WithdrawPerson,
  deps: WithdrawServices['deps'],
  why: string,
): readonly AnyFact[] {
  const now = deps.now();
  const at = momentIn(now, 'UTC');
  const ownClock = clockToText({ ms: now, count: 0 });
  return standing.map((fact) => ({
    id: deps.newId(),
    firm: fact.firm,
    property: fact.property,
    station: fact.station,
    by: person.id,
    device: IMPORT_BACK_DEVICE,
    seq: 0,
    at,
    clock: clockAfter(ownClock, corrections.of(fact.id)[0]?.clock),
    kind: CORRECTION,
    body: { corrects: fact.id, why, body: null, at: null },
  }));
}

/** The last correction wins: ours comes after one that a phone with a fast clock recorded. */
function clockAfter(own: string, other: string | undefined): string {
  if (other === undefined || other < own) return own;
  const [ms = '0'] = other.split('.');
  return clockToText({ ms: Number(ms) + 1, count: 0 });
}
