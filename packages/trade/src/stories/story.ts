import type { StationModel } from '../models.ts';
import type { LabelProfile } from '../profile/labelProfile.ts';
import type { Day } from '../units/index.ts';
import type { Finding, Task } from '../words.ts';

/** One case in plain text: a station's history in, the instruction at its last look and the due list out. */
export interface Story {
  readonly title: string;
  /** Ids of the tables that it is about. */
  readonly rules: readonly string[];
  readonly model: StationModel;
  readonly profile: LabelProfile;
  readonly installedOn: Day;
  readonly auxiliary: boolean;
  /** In order of time; at each look the steps that the tables give are followed and recorded. */
  readonly looks: readonly Look[];
  readonly expected: readonly Expectation[];
  /** Where the story begins, for messages. */
  readonly source: string;
  readonly line: number;
}

export interface Look {
  readonly day: Day;
  readonly task: Task;
  readonly finding: Finding;
}

/** What must hold at the last look; each is compared as words. */
export interface Expectation {
  readonly what: ExpectedThing;
  /** For `due on`: the day asked about. */
  readonly asOf: Day | null;
  readonly words: readonly string[];
  readonly line: number;
}

export const EXPECTED_THINGS = [
  'do',
  'never',
  'parts',
  'grams',
  'carried over',
  'service done',
  'new housing',
  'tell',
  'caution',
  'auxiliary stations',
  'next',
  'because',
  'due on',
] as const;
export type ExpectedThing = (typeof EXPECTED_THINGS)[number];

/** A story that cannot be read: says where and what to write instead. */
export class StoryError extends Error {
  readonly source: string;
  readonly line: number;
  constructor(source: string, line: number, reason: string, remedy: string) {
    super(`${source}:${line}: ${reason}; ${remedy}`);
    this.name = 'StoryError';
    this.source = source;
    this.line = line;
  }
}
