export * from './siteOf.ts';
export * from './walkOf.ts';
export * from './figures/index.ts';
