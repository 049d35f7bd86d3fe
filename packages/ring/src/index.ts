export * from './placement/model.ts';
export * from './site/model.ts';
