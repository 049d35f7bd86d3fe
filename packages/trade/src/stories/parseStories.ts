import { STATION_MODELS, type StationModel } from '../models.ts';
import { DEMO_PROFILE } from '../profile/demoProfile.ts';
import type { LabelProfile } from '../profile/labelProfile.ts';
import { type Day, findDay } from '../units/index.ts';
import {
  BAIT_LEFT,
  type Finding,
  HOUSING_CONDITIONS,
  MONITOR_CONDITIONS,
  OCCUPANTS,
  REACHES,
  TASKS,
  TERMITE_FINDINGS,
} from '../words.ts';
import { changeProfile } from './changeProfile.ts';
import { EXPECTED_THINGS, type Expectation, type Look, type Story, StoryError } from './story.ts';

/**
 * Reads the stories of one text; throws a StoryError that names the line. The form stands in stories/README.md.
 * `source` is the name for messages, a file's name for instance.
 */
export function parseStories(text: string, source: string): readonly Story[] {
  const stories: Story[] = [];
  let draft: Draft | undefined;
  for (const [i, raw] of text.split(/\r?\n/).entries()) {
    const words = raw.trim();
    const at: Place = { source, line: i + 1 };
    if (words === '' || words.startsWith('#')) continue;
    if (words.startsWith('Story:')) {
      if (draft !== undefined) stories.push(finish(draft));
      draft = newDraft(words.slice('Story:'.length).trim(), at);
    } else if (draft === undefined) {
      fail(at, 'a line before the first story', 'begin with "Story: its title"');
    } else {
      readLine(draft, words, at);
    }
  }
  if (draft !== undefined) stories.push(finish(draft));
  return stories;
}

interface Place {
  readonly source: string;
  readonly line: number;
}

interface Draft {
  readonly title: string;
  readonly at: Place;
  rules: readonly string[];
  model: StationModel | undefined;
  profile: LabelProfile;
  installedOn: Day | undefined;
  auxiliary: boolean;
  readonly looks: Look[];
  readonly expected: Expectation[];
}

function newDraft(title: string, at: Place): Draft {
  return {
    title,
    at,
    rules: [],
    model: undefined,
    profile: DEMO_PROFILE,
    installedOn: undefined,
    auxiliary: false,
    looks: [],
    expected: [],
  };
}

function finish(draft: Draft): Story {
  const { title, at, rules, model, profile, installedOn, auxiliary, looks, expected } = draft;
  if (rules.length === 0) return fail(at, `"${title}" names no rule`, 'write "Rule: " and the ids of tables');
  if (model === undefined) return fail(at, `"${title}" has no station`, 'write "Station: two-part", say');
  if (installedOn === undefined) return fail(at, `"${title}" has no start`, 'write "2025-03-01 installed"');
  if (expected.length === 0) return fail(at, `"${title}" expects nothing`, 'write "Then do: ..."');
  return { title, rules, model, profile, installedOn, auxiliary, looks, expected, ...at };
}

const LOOK = /^(\d{4}-\d{2}-\d{2}) ([a-z ]+?)(?::\s*(.*))?$/;

function readLine(draft: Draft, words: string, at: Place): void {
  const [head = '', ...rest] = words.split(':');
  const tail = rest.join(':').trim();
  if (head === 'Rule') {
    draft.rules = listOf(tail);
  } else if (head === 'Station') {
    draft.model = STATION_MODELS.find((model) => model.id === tail);
    if (draft.model === undefined) fail(at, `no station model "${tail}"`, `write one of: ${MODEL_IDS}`);
  } else if (head === 'Profile') {
    for (const change of listOf(tail)) {
      const changed = changeProfile(draft.profile, change);
      if (typeof changed === 'string') fail(at, `cannot read "${change}"`, changed);
      else draft.profile = changed;
    }
  } else if (head.startsWith('Then ')) {
    draft.expected.push(readExpectation(head.slice('Then '.length), tail, at));
  } else {
    readEvent(draft, words, at);
  }
}

const MODEL_IDS = STATION_MODELS.map((model) => model.id).join(', ');

function readEvent(draft: Draft, words: string, at: Place): void {
  const match = LOOK.exec(words);
  const day = findDay(match?.[1] ?? '');
  if (match === null || day === undefined) {
    fail(at, `cannot read "${words}"`, 'write a day and what happened, as "2025-06-02 check: bait half"');
  }
  const event = match[2] ?? '';
  if (event === 'installed' || event === 'installed beside a hit') {
    draft.installedOn = day;
    draft.auxiliary = event === 'installed beside a hit';
    return;
  }
  const task = TASKS.find((one) => one === event);
  if (task === undefined) fail(at, `no event "${event}"`, `write installed, ${TASKS.join(' or ')}`);
  if (draft.model === undefined || draft.installedOn === undefined || draft.installedOn > day) {
    fail(at, 'a look before the station was named and installed', 'put Station and installed first');
  }
  if ((draft.looks.at(-1)?.day ?? day) > day) fail(at, 'a look out of order', 'sort the looks by day');
  draft.looks.push({ day, task, finding: readFinding(draft.model, match[3] ?? '', at) });
}

const UNOPENED = /^(not found|blocked) \((.+)\)$/;

function readFinding(model: StationModel, words: string, at: Place): Finding {
  const unopened = UNOPENED.exec(words);
  if (unopened !== null) {
    const reach = unopened[1] === 'blocked' ? 'blocked' : 'not found';
    return { reach, why: unopened[2] ?? '' };
  }
  const hasMonitors = model.slots.some((slot) => slot.holds.includes('monitor'));
  const seen = new Map(
    listOf(words).map((phrase) => {
      const [name = '', ...value] = phrase.split(' ');
      return [name, value.join(' ')] as const;
    }),
  );
  for (const name of seen.keys()) {
    if (!['termites', 'bait', 'monitor', 'housing', 'occupants'].includes(name)) {
      fail(
        at,
        `cannot read "${name}"`,
        `write termites, bait, monitor, housing or occupants with what was seen, or ${REACHES.slice(1).join(' or ')} (why)`,
      );
    }
  }
  const bait = seen.get('bait');
  return {
    reach: 'opened',
    termites: pick(TERMITE_FINDINGS, seen.get('termites') ?? 'none', at),
    baitLeft: pick(BAIT_LEFT, bait === undefined || bait === 'none' ? 'no bait' : bait, at),
    monitor: pick(MONITOR_CONDITIONS, seen.get('monitor') ?? (hasMonitors ? 'sound' : 'no monitor'), at),
    housing: pick(HOUSING_CONDITIONS, seen.get('housing') ?? 'sound', at),
    occupants: pick(OCCUPANTS, seen.get('occupants') ?? 'none', at),
  };
}

function readExpectation(head: string, tail: string, at: Place): Expectation {
  const dueOn = /^due on (\S+)$/.exec(head);
  if (dueOn !== null) {
    const asOf = findDay(dueOn[1] ?? '');
    if (asOf === undefined) return fail(at, `no day "${dueOn[1]}"`, 'write it as 2025-06-02');
    return { what: 'due on', asOf, words: listOf(tail), line: at.line };
  }
  return { what: pick(EXPECTED_THINGS, head, at), asOf: null, words: listOf(tail), line: at.line };
}

function pick<T extends string>(words: readonly T[], word: string, at: Place): T {
  return (
    words.find((one) => one === word) ??
    fail(at, `no such word "${word}"`, `write one of: ${words.join(', ')}`)
  );
}

/** Phrases between semicolons; `none` is an empty list. */
function listOf(words: string): readonly string[] {
  if (words === 'none') return [];
  return words
    .split(';')
    .map((phrase) => phrase.trim())
    .filter((phrase) => phrase !== '');
}

function fail(at: Place, reason: string, remedy: string): never {
  throw new StoryError(at.source, at.line, reason, remedy);
}
