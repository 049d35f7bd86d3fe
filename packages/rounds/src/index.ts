export * from './siteOf.ts';
export * from './travel/index.ts';
export * from './walkOf.ts';
export * from './figures/index.ts';
