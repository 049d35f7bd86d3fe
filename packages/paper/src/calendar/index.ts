export { type Feed, type FeedEvent, feedToText } from './feed.ts';
export { type NextVisit, type NextVisitsInput, nextVisits, propertyFeed } from './propertyFeed.ts';
export { type RoundFeedInput, roundFeed } from './roundFeed.ts';
