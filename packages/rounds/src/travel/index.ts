export * from './near.ts';
export * from './table.ts';
