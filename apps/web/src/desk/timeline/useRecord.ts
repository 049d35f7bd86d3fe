import type { Application } from '@sillwatch/trade';
import { type Change, listChanges } from '../../shared/changes.ts';
import { fromApplication, LEGAL, type Legal, toApplication, wrongWith } from '../../shared/legal.ts';
import type { daysIn } from '../../words/days.ts';
import type { Words } from '../../words/index.ts';
import { type Entry, momentAgain } from '../property/history.ts';
import type { CorrectionResult } from './correction.ts';

export type RecordFault = 'needWhy' | 'needLegal' | 'needRecord';

export type RecordResult =
  | Extract<CorrectionResult, { readonly ok: true }>
  | { readonly ok: false; readonly fault: RecordFault };

/**
 * The use record of bait that went in when a station was set or replaced; undefined = the entry holds none. That of a look is asked
 * with what was found (found.ts).
 */
export function recordedWith({ fact, body }: Pick<Entry, 'fact' | 'body'>): Legal | undefined {
  if (fact.kind !== 'station installed' && fact.kind !== 'station replaced') return undefined;
  // A body that stands was checked against its kind.
  const said = body as { readonly application: Application | null } | null;
  return said === null || said.application === null ? undefined : fromApplication(said.application);
}

/** Fields of the use record that cannot stand as they are, in the words of the form. */
export function lackingIn(legal: Legal, w: Words): readonly string[] {
  return LEGAL.filter((name) => wrongWith(name, legal, w) !== undefined).map((name) => w.record[name]);
}

/** What the form would change, old beside new. */
export function recordChangesOf(
  entry: Entry,
  legal: Legal,
  w: Words,
  days: ReturnType<typeof daysIn>,
): readonly Change[] {
  return listChanges(entry.fact.kind, entry, { body: saidAnew(entry, legal), at: entry.at }, w, days);
}

/** The correction that a filled form asks for: the use record changes, all else is said again as it stands. */
export function recordCorrectionOf(
  entry: Entry,
  legal: Legal,
  why: string,
  w: Words,
  days: ReturnType<typeof daysIn>,
): RecordResult {
  if (lackingIn(legal, w).length > 0) return { ok: false, fault: 'needLegal' };
  if (recordChangesOf(entry, legal, w, days).length === 0) return { ok: false, fault: 'needRecord' };
  if (why.trim() === '') return { ok: false, fault: 'needWhy' };
  return {
    ok: true,
    body: { corrects: entry.fact.id, why: why.trim(), body: saidAnew(entry, legal), at: momentAgain(entry) },
  };
}

function saidAnew({ body }: Entry, legal: Legal): object {
  return { ...Object(body), application: toApplication(legal) };
}
