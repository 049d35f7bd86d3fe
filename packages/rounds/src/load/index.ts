export * from './dueVisit.ts';
export * from './expectedVisits.ts';
export * from './loadFor.ts';
export * from './outcomes.ts';
export { type NeedQuestion, type NeedReason, type StationNeed, stationNeed } from './stationNeed.ts';
export * from './stock.ts';
export * from './tools.ts';
export * from './wear.ts';
