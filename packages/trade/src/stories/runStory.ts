import { type DueWork, timelinessOn } from '../due/due.ts';
import { dueWork } from '../due/dueWork.ts';
import type { AnyFact } from '../facts/fact.ts';
import { CAUTIONS } from '../rules/cautions.ts';
import type { Steps } from '../rules/steps.ts';
import { STEP_IDS } from '../rules/steps.ts';
import { stepsFor } from '../rules/stepsFor.ts';
import { TELL_WORDS } from '../rules/tell.ts';
import { assessClearance } from '../state/clearance.ts';
import { foldProperty } from '../state/foldProperty.ts';
import type { StationState } from '../state/state.ts';
import { type Day, dayToText } from '../units/index.ts';
import { type Expectation, type Story, StoryError } from './story.ts';
import { installFacts, lookFact, STORY_STATION } from './storyFacts.ts';

export interface StoryRun {
  readonly facts: readonly AnyFact[];
  /** Before the last look. */
  readonly before: StationState;
  /** At the last look; undefined in a story without looks. */
  readonly steps: Steps | undefined;
  /** After the steps of the last look were followed and recorded. */
  readonly after: StationState;
}

/** Lives the story: at each look the tables are asked, their steps followed and recorded, and all facts folded anew. */
export function runStory(story: Story): StoryRun {
  const facts: AnyFact[] = [...installFacts(story)];
  let before = stateOf(facts, story);
  let after = before;
  let steps: Steps | undefined;
  for (const { day, task, finding } of story.looks) {
    before = after;
    steps = stepsFor({ state: before, model: story.model, finding, task, profile: story.profile });
    facts.push(lookFact(story, { day, task, finding }, steps, facts.length));
    after = stateOf(facts, story);
  }
  return { facts, before, steps, after };
}

function stateOf(facts: readonly AnyFact[], story: Story): StationState {
  const state = foldProperty(facts).stations.find((one) => one.station === STORY_STATION);
  if (state === undefined) {
    throw new StoryError(story.source, story.line, 'the station is not in its own facts', 'report this');
  }
  return assessClearance(state, story.profile);
}

/** All that a story expected and did not get, one line each; an empty list = the story holds. */
export function checkStory(story: Story): readonly string[] {
  const { steps, after } = runStory(story);
  return [...(steps === undefined ? [] : compareSteps(story, steps)), ...compareDue(story, [after])];
}

/** The due lists that a story expected and did not get, given the states after its last look. */
export function compareDue(story: Story, states: readonly StationState[]): readonly string[] {
  return story.expected.flatMap(({ what, asOf, words, line }) => {
    if (what !== 'due on' || asOf === null) return [];
    const found = mustEqual(
      words.toSorted(),
      listDueWords(dueWork(states, story.profile, asOf), asOf).toSorted(),
    );
    return found === undefined ? [] : [`${story.source}:${line}: "${story.title}": due: ${found}`];
  });
}

/** As stories write it: `check 2025-07-20 to 2025-08-20 to 2025-09-20, open`. */
function listDueWords(due: DueWork, asOf: Day): readonly string[] {
  return [
    ...due.items.map(
      (item) =>
        `${item.work} ${dayToText(item.earliest)} to ${dayToText(item.target)} to ${dayToText(item.latest)}, ${timelinessOn(item, asOf)}`,
    ),
    ...due.held.map((held) => `held yearly service, feeding since ${dayToText(held.feedingSince)}`),
    ...due.clearStructures.map(({ clearedOn }) => `structure clear since ${dayToText(clearedOn)}`),
  ];
}

/** The instructions that a story expected and did not get, one line each. */
export function compareSteps(story: Story, steps: Steps): readonly string[] {
  return story.expected.flatMap((expectation) => {
    if (expectation.what === 'due on') return [];
    const found = compareOne(expectation, steps, story);
    return found === undefined
      ? []
      : [`${story.source}:${expectation.line}: "${story.title}": ${expectation.what}: ${found}`];
  });
}

function compareOne(expectation: Expectation, steps: Steps, story: Story): string | undefined {
  const { words } = expectation;
  const ids: readonly string[] = steps.steps.map((step) => step.id);
  switch (expectation.what) {
    case 'do':
      mustBeKnown(STEP_IDS, expectation, story);
      return mustEqual(words, ids);
    case 'never': {
      mustBeKnown(STEP_IDS, expectation, story);
      const done = words.filter((word) => ids.includes(word));
      return done.length === 0 ? undefined : `asked for all the same: ${done.join('; ')}`;
    }
    case 'parts':
      return mustEqual(
        words.toSorted(),
        Object.entries(steps.partsUsed)
          .map(([part, count]) => `${part} ${count}`)
          .toSorted(),
      );
    case 'grams':
      return mustEqual(words, [String(steps.baitGrams)]);
    case 'carried over':
      return mustEqual(words, [steps.carriedOver ? 'yes' : 'no']);
    case 'service done':
      return mustEqual(words, [steps.yearlyServiceDone ? 'yes' : 'no']);
    case 'new housing':
      return mustEqual(words, [steps.housingReplaced ? 'yes' : 'no']);
    case 'tell':
      mustBeKnown(Object.keys(TELL_WORDS), expectation, story);
      return mustEqual(words, steps.tell);
    case 'caution': {
      mustBeKnown(Object.keys(CAUTIONS), expectation, story);
      const shown: readonly string[] = steps.cautions;
      const missing = words.filter((word) => !shown.includes(word));
      return missing.length === 0 ? undefined : `not shown: ${missing.join('; ')}`;
    }
    case 'auxiliary stations':
      return mustEqual(words, [String(steps.auxiliaryStations)]);
    case 'next':
      return mustEqual(words, [steps.next]);
    case 'because': {
      const fired = steps.fired.map(({ table, row }) => `${table}, ${row}`);
      const missing = words.filter((word) => !fired.includes(word));
      return missing.length === 0
        ? undefined
        : `did not fire: ${missing.join('; ')} (fired: ${fired.join('; ')})`;
    }
    case 'due on':
      return undefined;
  }
}

function mustEqual(expected: readonly string[], found: readonly string[]): string | undefined {
  const [wanted, got] = [expected.join('; '), found.join('; ')];
  return wanted === got ? undefined : `expected "${wanted}", found "${got}"`;
}

function mustBeKnown(known: readonly string[], { words, line }: Expectation, story: Story): void {
  const unknown = words.find((word) => !known.includes(word));
  if (unknown !== undefined) {
    throw new StoryError(
      story.source,
      line,
      `no such word "${unknown}"`,
      `write one of: ${known.join('; ')}`,
    );
  }
}
