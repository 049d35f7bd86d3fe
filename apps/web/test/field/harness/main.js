// The real store, sync engine and service worker, without screens: what a test drives from outside the page.
import { adoptPerson, openFieldStore } from '../../../src/field/store/open.ts';

globalThis.field = {
  adoptPerson,
  openFieldStore,
  store: undefined,
  workerReady: () => navigator.serviceWorker.ready.then(() => true),
  isControlled: () => navigator.serviceWorker.controller !== null,
};
