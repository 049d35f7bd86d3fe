import { expect, test } from 'vitest';
import { compareSteps, parseStories, runStory, StoryError } from '../../src/index.ts';

const STORY = `
# a comment
Story: A check
Rule: reach; monitor
Station: two-part
Profile: clear after checks 2; idle bait withdrawn
2025-03-01 installed beside a hit
2025-05-20 check: termites live on bait; bait three quarters; housing filled with soil
2025-06-20 yearly service: blocked (a car, with a trailer: both locked)
Then do: record why and take a photo; tell the office
Then due on 2025-07-01: none
`;

test('a story reads as it stands', () => {
  const [story, ...others] = parseStories(STORY, 'one.story');
  expect(others).toEqual([]);
  expect(story).toMatchObject({
    title: 'A check',
    rules: ['reach', 'monitor'],
    auxiliary: true,
    profile: { clearAfterChecks: { value: 2 }, idleBait: { value: 'withdrawn' }, invented: true },
    looks: [
      {
        task: 'check',
        finding: {
          reach: 'opened',
          termites: 'live on bait',
          baitLeft: 'three quarters',
          monitor: 'sound',
          housing: 'filled with soil',
          occupants: 'none',
        },
      },
      {
        task: 'yearly service',
        finding: { reach: 'blocked', why: 'a car, with a trailer: both locked' },
      },
    ],
    expected: [
      { what: 'do', words: ['record why and take a photo', 'tell the office'], line: 10 },
      { what: 'due on', words: [], line: 11 },
    ],
    source: 'one.story',
    line: 3,
  });
});

test.each([
  ['Rule: reach', 'one.story:1: a line before the first story'],
  ['Story: x\nStation: tower', 'one.story:2: no station model "tower"; write one of: two-part, one-part'],
  [
    'Story: x\nProfile: idle bait eaten',
    'one.story:2: cannot read "idle bait eaten"; "eaten" does not fit idle bait',
  ],
  ['Story: x\nProfile: colour blue', 'one.story:2: cannot read "colour blue"; write one of these'],
  ['Story: x\n2025-02-30 installed', 'one.story:2: cannot read "2025-02-30 installed"'],
  ['Story: x\n2025-02-03 painted', 'one.story:2: no event "painted"'],
  ['Story: x\n2025-02-03 check:', 'one.story:2: a look before the station was named and installed'],
  [
    'Story: x\nStation: two-part\n2025-02-03 installed\n2025-02-04 check: bees lots',
    'one.story:4: cannot read "bees"',
  ],
  [
    'Story: x\nStation: two-part\n2025-02-03 installed\n2025-02-04 check: bait lots',
    'one.story:4: no such word "lots"',
  ],
  ['Story: x\nThen hope: yes', 'one.story:2: no such word "hope"'],
  ['Story: x\nThen due on Monday: none', 'one.story:2: no day "Monday"'],
  ['Story: x\nRule: reach\nStation: two-part\n2025-02-03 installed', 'one.story:1: "x" expects nothing'],
  ['Story: x\nStation: two-part\n2025-02-03 installed\nThen do: none', 'one.story:1: "x" names no rule'],
])('what cannot be read is named with its line: %s', (text, message) => {
  expect(() => parseStories(text, 'one.story')).toThrow(StoryError);
  expect(() => parseStories(text, 'one.story')).toThrow(message);
});

test('a story that does not hold says what was expected and what was found', () => {
  const wrong = `Story: wrong
Rule: reach
Station: two-part
2025-03-01 installed
2025-05-20 check: monitor rotten
Then do: sweep and open; close and lock the cap
Then never: fit a new top monitor
Then parts: base-monitor 2
Then carried over: yes
Then caution: stinging insects
Then because: monitor, sound
Then next: baited check`;
  const [story] = parseStories(wrong, 'wrong.story');
  if (story === undefined) throw new Error('no story');
  const { steps } = runStory(story);
  if (steps === undefined) throw new Error('no steps');
  const lines = compareSteps(story, steps).map((line) => line.split(':')[1]);
  expect(lines).toEqual(['6', '7', '8', '9', '10', '11', '12']);
});
