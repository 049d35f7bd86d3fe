export { canonicalJson } from './core/canonical.ts';
export { EMPTY_HEAD, linkHash } from './core/chain.ts';
export type { Entry } from './core/entry.ts';
export { BackupError, LedgerNotEmptyError, LedgerUnusableError } from './core/errors.ts';
export * from './open.ts';
export type * from './port.ts';
