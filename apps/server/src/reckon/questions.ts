import type { FigureName } from '@sillwatch/rounds';
import type { AnyFact, Day, FirmState } from '@sillwatch/trade';
import type { LoadAsked } from './loadAnswers.ts';

/** What every question says of the day that it is asked about. */
interface Dated {
  readonly asOf: Day;
  /** True = that day was named; otherwise it is today, and the question stays the same tomorrow. */
  readonly isDayNamed?: boolean;
}

export interface FigureQuestion extends Dated {
  readonly name: FigureName;
  /** null = every branch */
  readonly branch: string | null;
  /** rows of each list of properties or stations; absent = all */
  readonly most?: number;
}

export interface LoadQuestion extends Dated {
  readonly name: 'load';
  readonly asked: LoadAsked;
}

export type ReckonQuestion = FigureQuestion | LoadQuestion;

/** What a figure thread is sent. Facts of a property come whole, those of the firm as they were appended. */
export type ReckonMessage =
  | { readonly kind: 'property'; readonly property: string; readonly facts: readonly AnyFact[] }
  | { readonly kind: 'firm'; readonly facts: readonly AnyFact[] }
  /** answered with an empty text once all before it was read */
  | { readonly kind: 'drain'; readonly number: number }
  | {
      readonly kind: 'question';
      readonly number: number;
      readonly question: ReckonQuestion;
      readonly firm: FirmState;
    };

/** What it sends back. */
export type ReckonAnswer =
  | { readonly number: number; readonly json: string }
  | { readonly number: number; readonly why: string };
