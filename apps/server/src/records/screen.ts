import { type FactCheck, judgeProblems, type Ledger, type Verdict } from '@sillwatch/ledger';
import {
  type AnyFact,
  CORRECTION,
  checkBody,
  correctedId,
  PROPERTY_KINDS,
  readCorrection,
} from '@sillwatch/trade';
import { mayRecordKind, OFFICE } from '../accounts/roles.ts';
import type { Person } from '../http/context.ts';
import { factEnvelope } from './envelope.ts';

export type Refusal = Extract<Verdict, { readonly verdict: 'refused' }>;

/** A fact of a batch after the questions that only the server can answer: who may record this, here, in whose name? */
export type Screened =
  | { readonly fact: AnyFact; readonly refusal: undefined }
  | { readonly fact: undefined; readonly refusal: Refusal };

/** Kinds that mean nothing without the numbers of a label. */
const KINDS_UNDER_A_LABEL: readonly string[] = ['station installed', 'station seen', 'station replaced'];

export interface ScreenOptions {
  /** An office role takes over the records of others (an old system, a phone that broke): `by` may be anybody. */
  readonly importing: boolean;
}

/**
 * Screens a batch in order; a fact may lean on one before it in the batch (a property added, then seen).
 * Nothing is stored here. Refusals are verdicts, so that a phone can show each with its reason.
 */
export async function screenFacts(
  ledger: Ledger,
  person: Person,
  values: readonly unknown[],
  { importing }: ScreenOptions,
): Promise<readonly Screened[]> {
  const scope = createScope(ledger, person);
  const screened: Screened[] = [];
  for (const value of values) {
    const parsed = factEnvelope(value);
    if (parsed.fact === undefined) {
      screened.push(refuse(parsed.id, 'malformed', parsed.detail));
      continue;
    }
    const { fact } = parsed;
    const why = await whyNot(scope, person, fact, importing);
    const said = why === undefined ? await judgeSaid(scope, fact) : undefined;
    if (why !== undefined) {
      screened.push(refuse(fact.id, fact.firm === person.firm ? 'not allowed' : 'other firm', why));
    } else if (said !== undefined && !said.ok) {
      screened.push(refuse(fact.id, said.code, said.detail));
    } else {
      scope.note(fact);
      screened.push({ fact, refusal: undefined });
    }
  }
  return screened;
}

function refuse(id: string, code: Refusal['code'], detail: string): Screened {
  return { fact: undefined, refusal: { id, verdict: 'refused', code, detail } };
}

async function whyNot(
  scope: Scope,
  person: Person,
  fact: AnyFact,
  importing: boolean,
): Promise<string | undefined> {
  if (fact.firm !== person.firm) return 'The fact names another firm than the one signed in to.';
  if (!mayRecordKind(person.role, fact.kind)) {
    return `A person with the role ${person.role} may not record "${fact.kind}".`;
  }
  if (fact.by !== person.id && !importing) {
    return 'The fact was recorded by another person; it must be sent while that person is signed in.';
  }
  if (fact.kind === CORRECTION) {
    const why = await whyNotCorrect(scope, person, fact);
    if (why !== undefined) return why;
  }
  return whyNotHere(scope, person, fact);
}

async function whyNotHere(scope: Scope, person: Person, fact: AnyFact): Promise<string | undefined> {
  if (fact.property === null) {
    return PROPERTY_KINDS.some((kind) => kind === fact.kind)
      ? `"${fact.kind}" must name its property.`
      : undefined;
  }
  if (fact.kind === 'property added') return whyNotBranch(person, textOf(fact.body, 'branch'));
  const place = await scope.findPlace(fact.property);
  if (place === undefined) return 'The firm has no such property.';
  const why = whyNotBranch(person, place.branch);
  if (why !== undefined) return why;
  if (fact.kind === 'property changed') {
    const branch = textOf(fact.body, 'branch');
    return branch === undefined ? undefined : whyNotBranch(person, branch);
  }
  if (KINDS_UNDER_A_LABEL.includes(fact.kind) && !(await scope.hasProfile(place.profile))) {
    return "The property has no label profile. Enter the numbers of the firm's label before the first record.";
  }
  return undefined;
}

/** A technician puts right what he recorded himself; the office, what anybody did. */
async function whyNotCorrect(scope: Scope, person: Person, fact: AnyFact): Promise<string | undefined> {
  const id = correctedId(fact);
  const target = id === undefined ? undefined : await scope.findFact(id);
  if (target === undefined) return 'The fact to be corrected is not in the ledger.';
  if (target.property !== fact.property) return 'The fact to be corrected belongs to another property.';
  if (!mayRecordKind(person.role, target.kind)) {
    return `A person with the role ${person.role} may not correct "${target.kind}".`;
  }
  if (target.by !== person.id && !OFFICE.includes(person.role)) {
    return 'Only the office corrects what another person recorded.';
  }
  return undefined;
}

/**
 * What a correction says must have the form of what it corrects, legal fields of a use record included: the fold passes
 * over one that has not, and here somebody can still be told which field is missing. A correction of a correction is
 * followed down to the entry that both are about.
 */
async function judgeSaid(scope: Scope, fact: AnyFact): Promise<FactCheck | undefined> {
  let about: AnyFact | undefined = fact;
  let said: unknown = fact.body;
  let path = 'body';
  while (about?.kind === CORRECTION) {
    const read = readCorrection(said);
    const corrects = correctedId(about);
    if (read === undefined || corrects === undefined || read.body === null) return undefined;
    if (read.corrects !== corrects)
      return {
        ok: false,
        code: 'malformed',
        detail: `${path}.corrects names another entry than before; withdraw this correction and correct the other entry`,
      };
    about = await scope.findFact(corrects);
    said = read.body;
    path = `${path}.body`;
    if (about === undefined) return undefined;
    const check = judgeProblems(checkBody(about.kind, said, path));
    if (!check.ok) return check;
  }
  return undefined;
}

function whyNotBranch(person: Person, branch: string | undefined): string | undefined {
  if (person.branch === null || branch === person.branch) return undefined;
  return 'The property belongs to another branch than yours.';
}

interface Place {
  readonly branch: string;
  readonly profile: string;
}

/** What the ledger and the batch so far say, each thing asked for once. */
interface Scope {
  findPlace(property: string): Promise<Place | undefined>;
  findFact(id: string): Promise<AnyFact | undefined>;
  hasProfile(profile: string): Promise<boolean>;
  /** Takes in a fact that passed. */
  note(fact: AnyFact): void;
}

function createScope(ledger: Ledger, { firm }: Person): Scope {
  const places = new Map<string, Place | undefined>();
  const facts = new Map<string, AnyFact>();
  const profiles = new Set<string>();
  let firmProfiles: Promise<ReadonlySet<string>> | undefined;
  return {
    async findPlace(property) {
      if (!places.has(property)) {
        const body = (await ledger.findProperty(firm, property))?.body;
        places.set(property, body === undefined || body === null ? undefined : body);
      }
      return places.get(property);
    },
    async findFact(id) {
      return facts.get(id) ?? (await ledger.findFact(firm, id));
    },
    async hasProfile(profile) {
      if (profiles.has(profile)) return true;
      firmProfiles ??= ledger.getFirm(firm).then((state) => new Set(Object.keys(state.profiles)));
      return (await firmProfiles).has(profile);
    },
    note(fact) {
      facts.set(fact.id, fact);
      if (fact.kind === 'profile set') profiles.add(textOf(fact.body, 'id') ?? '');
      if (fact.property === null) return;
      const before = places.get(fact.property);
      if (fact.kind === 'property added' || (fact.kind === 'property changed' && before !== undefined)) {
        places.set(fact.property, {
          branch: textOf(fact.body, 'branch') ?? before?.branch ?? '',
          profile: textOf(fact.body, 'profile') ?? before?.profile ?? '',
        });
      }
    },
  };
}

function textOf(body: unknown, key: string): string | undefined {
  if (typeof body !== 'object' || body === null) return undefined;
  const entry = Object.entries(body).find(([name]) => name === key);
  return typeof entry?.[1] === 'string' ? entry[1] : undefined;
}
