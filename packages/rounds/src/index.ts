export * from './drawingChanges.ts';
export * from './figures/index.ts';
export * from './load/index.ts';
export * from './plan/index.ts';
export * from './siteOf.ts';
export * from './travel/index.ts';
export * from './walkOf.ts';
