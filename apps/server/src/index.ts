export { type Accounts, openAccounts } from './accounts/accounts.ts';
export { type ListedPerson, listPeople, type SeedAccount, seedAccount } from './accounts/people.ts';
export { ROLES, type Role } from './accounts/roles.ts';
export { type AppSettings, createServer, getDocument } from './app.ts';
export { DEFAULT_LIMITS, type Limits, type Person, type Services } from './http/context.ts';
export { PROBLEMS, Problem } from './http/problems.ts';
export { createIdMaker } from './ids.ts';
export { listImported } from './imports/imported.ts';
export { createImportShelf, type PastImport } from './imports/importShelf.ts';
export { withdrawImport } from './imports/withdrawImport.ts';
export { type BundleRequest, writeBundle } from './papers/inspectorBundle.ts';
export { eachRenewalLetter, listRenewals, type Renewals } from './papers/renewalLetters.ts';
export { readRoundPaper } from './papers/roundPaper.ts';
export { openPhotoStore, type PhotoStore } from './photos/photoStore.ts';
export { openPlanDepot, openTravel, type PlanDepot } from './plans/planDepot.ts';
export { openPlanDesk } from './plans/planDesk.ts';
export type { PlanProgress, PlanResult } from './plans/planTask.ts';
export { isOutdated, sendRounds } from './plans/publish.ts';
export { listPublished, readPlanTask } from './plans/readTask.ts';
export {
  openServerAccounts,
  type RunningServer,
  type StartOptions,
  startServer,
  stopOnSignals,
} from './start.ts';
export { readTravelSettings } from './travel/settings.ts';
export { createBooks } from './work/book.ts';
