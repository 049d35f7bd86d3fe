export * from './due/due.ts';
export * from './facts/fact.ts';
export * from './models.ts';
export * from './profile/labelProfile.ts';
export * from './rules/steps.ts';
export * from './state/state.ts';
export * from './units/index.ts';
export * from './words.ts';
