import { checkStory, parseStories } from '@sillwatch/trade';

/** What the stories of this text expected and did not get, and how many there were. */
globalThis.playStories = (text, source) => {
  const stories = parseStories(text, source);
  return { told: stories.length, failed: stories.flatMap((story) => checkStory(story)) };
};
