export * from './siteOf.ts';
export * from './figures/index.ts';
