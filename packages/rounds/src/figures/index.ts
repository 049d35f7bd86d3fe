export * from './history.ts';
export * from './hitRisk.ts';
export * from './riskColumns.ts';
export * from './serviceMinutes.ts';
