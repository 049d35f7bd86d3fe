export * from './placement/model.ts';
export { proposeStations } from './placement/proposeStations.ts';
export * from './site/model.ts';
