// The real store, sync engine and service worker, without screens: what a test drives from outside the page.
import { adoptPerson, openFieldStore } from '../../../src/field/store/open.ts';
import { isOfBuild } from '../../../src/field/worker/register.ts';

globalThis.field = {
  adoptPerson,
  openFieldStore,
  store: undefined,
  version: __HARNESS_VERSION__,
  workerReady: () => navigator.serviceWorker.ready.then(() => true),
  lookForUpdate: () => navigator.serviceWorker.getRegistration().then((found) => found?.update()),
  isOfBuild: (url) => isOfBuild(navigator.serviceWorker.controller, url),
  isControlled: () => navigator.serviceWorker.controller !== null,
};

/** Takes a "photo" of these sides, sends it, and answers with what the server and this phone have of it. */
globalThis.field.takePhoto = async (width, height) => {
  const canvas = new OffscreenCanvas(width, height);
  const pen = canvas.getContext('2d');
  for (let at = 0; at < width; at += 20) {
    pen.fillStyle = `hsl(${at % 360} 60% 50%)`;
    pen.fillRect(at, 0, 20, height);
  }
  const ref = await field.store.addPhoto(await canvas.convertToBlob({ type: 'image/png' }));
  await field.store.syncNow();
  const sides = async (blob) => {
    const bitmap = await createImageBitmap(blob);
    return [bitmap.width, bitmap.height];
  };
  const answer = await fetch(`/api/photos/${ref.hash}`);
  const url = await field.store.photoUrl(ref.hash, 'thumbnail');
  return {
    bytes: ref.bytes,
    status: answer.status,
    mediaType: answer.headers.get('content-type'),
    whole: await sides(await answer.blob()),
    thumbnail: await sides(await (await fetch(`/api/photos/${ref.hash}/thumbnail`)).blob()),
    isShown: url?.startsWith('blob:') === true,
    waiting: field.store.sync.get().photosWaiting,
  };
};
