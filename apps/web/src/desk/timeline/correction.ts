import { type FactBodies, findDay } from '@sillwatch/trade';
import { type Entry, momentAgain, textOf } from '../property/history.ts';

/** `found` is asked by found.ts, of looks at stations alone; `record` by useRecord.ts, of stations that were set or replaced with bait. */
export type How = 'change' | 'found' | 'record' | 'withdraw';

/** What the correction form holds. */
export interface Draft {
  readonly how: How;
  /** ISO 8601 calendar day */
  readonly day: string;
  readonly note: string;
  readonly why: string;
}

export type DraftFault = 'needWhy' | 'needDay' | 'needChange';

export type CorrectionResult =
  | { readonly ok: true; readonly body: FactBodies['fact corrected'] }
  | { readonly ok: false; readonly fault: DraftFault };

/** The key under which this kind of entry keeps words that anybody may mend; undefined = it has none. */
export function noteKeyOf(kind: string): 'text' | 'note' | undefined {
  switch (kind) {
    case 'note added':
      return 'text';
    case 'station seen':
    case 'visit closed':
      return 'note';
    default:
      return undefined;
  }
}

export function draftOf(entry: Entry): Draft {
  const key = noteKeyOf(entry.fact.kind);
  return {
    how: 'change',
    day: entry.at.slice(0, 10),
    note: key === undefined ? '' : textOf(entry.body, key),
    why: '',
  };
}

/** The correction that a filled form asks for: only the day and the note change, all else is said again as it stands. */
export function correctionOf(entry: Entry, draft: Draft): CorrectionResult {
  const why = draft.why.trim();
  const corrects = entry.fact.id;
  if (why === '') return { ok: false, fault: 'needWhy' };
  if (draft.how === 'withdraw') return { ok: true, body: { corrects, why, body: null, at: null } };
  if (findDay(draft.day) === undefined) return { ok: false, fault: 'needDay' };
  const before = draftOf(entry);
  if (draft.day === before.day && draft.note === before.note) return { ok: false, fault: 'needChange' };
  const key = noteKeyOf(entry.fact.kind);
  const { body } = entry;
  const said =
    typeof body === 'object' && body !== null && key !== undefined ? { ...body, [key]: draft.note } : body;
  const at = momentAgain({ fact: entry.fact, at: `${draft.day}${entry.at.slice(10)}` });
  return { ok: true, body: { corrects, why, body: said, at } };
}
