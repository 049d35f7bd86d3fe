export * from './history.ts';
export * from './serviceMinutes.ts';
