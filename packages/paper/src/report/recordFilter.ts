import type { Day } from '@sillwatch/trade';

/** What an inspector asks for; an absent field asks for all. */
export interface RecordFilter {
  /** first and last day, both included, where the application was made */
  readonly from?: Day;
  readonly to?: Day;
  readonly property?: string;
  readonly epaRegistrationNumber?: string;
  /** name, certification number or account, any case: who applied, supervised or wrote it down */
  readonly applicator?: string;
  /** postal abbreviations of states whose further fields are asked for; default those of the addresses */
  readonly states?: readonly string[];
}

/** A filter as people ask for it, in a query or at a terminal. */
export interface RecordQuestion {
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  readonly property?: string | undefined;
  /** EPA registration number */
  readonly product?: string | undefined;
  /** name, certification number or account */
  readonly technician?: string | undefined;
}

/** `readDay` throws where a text is no day, in the words of who asked. */
export function readRecordFilter(
  { from, to, property, product, technician }: RecordQuestion,
  readDay: (text: string, field: 'from' | 'to') => Day,
): RecordFilter {
  return {
    ...(from === undefined ? {} : { from: readDay(from, 'from') }),
    ...(to === undefined ? {} : { to: readDay(to, 'to') }),
    ...(property === undefined ? {} : { property }),
    ...(product === undefined ? {} : { epaRegistrationNumber: product }),
    ...(technician === undefined ? {} : { applicator: technician }),
  };
}
