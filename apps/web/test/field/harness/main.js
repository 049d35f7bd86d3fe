// The real store, sync engine and service worker, without screens: what a test drives from outside the page.
import { adoptPerson, openFieldStore } from '../../../src/field/store/open.ts';

globalThis.field = {
  adoptPerson,
  openFieldStore,
  store: undefined,
  version: __HARNESS_VERSION__,
  workerReady: () => navigator.serviceWorker.ready.then(() => true),
  lookForUpdate: () => navigator.serviceWorker.getRegistration().then((found) => found?.update()),
  isControlled: () => navigator.serviceWorker.controller !== null,
};
