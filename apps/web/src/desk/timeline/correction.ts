import { type FactBodies, findDay, findMoment } from '@sillwatch/trade';
import { type Entry, textOf } from '../property/history.ts';

export type How = 'change' | 'withdraw';

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

/**
 * When an entry is now said to have happened. Only the latest correction that stands counts, and one without a time of
 * its own goes back to the entry's; the standing day tells which of them stands.
 */
function momentOf({ fact, day, corrections }: Entry): string {
  const moments = corrections
    .filter(({ fact: correction }) => textOf(correction.body, 'corrects') === fact.id)
    .map(({ fact: correction }) => textOf(correction.body, 'at') || fact.at);
  return moments.find((at) => findMoment(at)?.day === day) ?? fact.at;
}

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
    day: momentOf(entry).slice(0, 10),
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
  // The last correction stands alone, so it repeats the moment of the one before.
  const at = `${draft.day}${momentOf(entry).slice(10)}`;
  return { ok: true, body: { corrects, why, body: said, at: at === entry.fact.at ? null : at } };
}
