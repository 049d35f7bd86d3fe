import type { Person } from '@sillwatch/server';
import type { Me } from '../../../src/api/types.ts';
import { createMemoryShelf } from '../../../src/field/store/memoryShelf.ts';
import { Notebook, type NotebookDeps } from '../../../src/field/store/notebook.ts';
import type { Shelf } from '../../../src/field/store/shelf.ts';

/** mulberry32: a small generator whose whole state is its seed. */
export function createRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** The disk of a phone, and the app on it, which can be killed at any moment: what it was about to write is not written. */
export interface Phone {
  readonly notebook: () => Notebook;
  /** The process ends now; a new one opens the same disk. */
  kill(): Promise<void>;
}

export async function startPhone(person: Person, random: () => number, now = Date.now): Promise<Phone> {
  const disk = createMemoryShelf();
  const me = meOf(person);
  let handle = openHandle(disk);
  const deps: NotebookDeps = {
    now,
    timeText: (ms) => new Date(ms).toISOString().replace('Z', '+00:00'),
    randomBytes: (count) => Uint8Array.from({ length: count }, () => Math.floor(random() * 256)),
    announce: () => {},
  };
  let notebook = await Notebook.open(handle.shelf, deps, me);
  return {
    notebook: () => notebook,
    async kill() {
      handle.kill();
      handle = openHandle(disk);
      notebook = await Notebook.open(handle.shelf, deps, me, false);
    },
  };
}

function openHandle(disk: Shelf): { readonly shelf: Shelf; kill(): void } {
  let dead = false;
  const checkAlive = (): void => {
    if (dead) throw new Error('the app was killed');
  };
  return {
    kill: () => {
      dead = true;
    },
    shelf: {
      transact: (tables, mode, use) =>
        disk.transact(tables, mode, async (tx) => {
          checkAlive();
          const answer = await use(tx);
          // Killed before the commit: nothing of it is stored.
          checkAlive();
          return answer;
        }),
      close: () => {},
    },
  };
}

export function meOf(person: Person): Me {
  return {
    id: person.id,
    name: person.name,
    email: person.email,
    role: person.role,
    branch: person.branch,
    licenceNumber: person.licenceNumber,
    certificationNumber: person.certificationNumber,
    mustChangePassword: false,
    twoFactor: false,
    firm: { id: person.firm, name: person.firmName },
    demo: false,
  };
}
