export * from './siteOf.ts';
