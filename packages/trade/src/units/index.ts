export type { Branded } from './brand.ts';
export * from './day.ts';
export * from './measure.ts';
export * from './moment.ts';
