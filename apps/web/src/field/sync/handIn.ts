import type { SyncProblem } from '../store/port.ts';
import { UNSENT_FORMAT } from '../store/unsent.ts';
import { orStop, Stop } from './stop.ts';
import type { Transport } from './wire.ts';

const FACTS_AT_ONCE = 200;
const PART_BYTES = 128 * 1024;

export type HandedIn =
  | {
      readonly is: 'done';
      readonly taken: number;
      readonly known: number;
      /** With the server's own sentences. */
      readonly refused: readonly { readonly id: string; readonly detail: string }[];
      readonly photos: number;
      readonly photosRefused: number;
    }
  | { readonly is: 'no such file' }
  | { readonly is: 'other firm' }
  | { readonly is: 'stopped'; readonly problem: SyncProblem };

/**
 * Hands over a file that a phone wrote (`exportUnsent`): its records and its pictures. Whoever is of the office hands in anybody's,
 * a technician his own. Handing it in twice, or while the phone sends after all, doubles nothing.
 */
export async function handIn(text: string, line: Transport): Promise<HandedIn> {
  const file = readFile(text);
  if (file === undefined) return { is: 'no such file' };
  try {
    const { me } = orStop(await line.pull(Number.MAX_SAFE_INTEGER));
    if (me.firm.id !== file.firm) return { is: 'other firm' };
    const importing = me.role === 'lead' || me.role === 'owner';
    // Pictures first: a record never names one that could still be lost with the file.
    let photos = 0;
    for (const picture of file.pictures) if (await sendPicture(picture, line)) photos += 1;
    let [taken, known] = [0, 0];
    const refused: { id: string; detail: string }[] = [];
    for (let at = 0; at < file.facts.length; at += FACTS_AT_ONCE) {
      const verdicts = orStop(await line.sendFacts(file.facts.slice(at, at + FACTS_AT_ONCE), importing));
      for (const one of verdicts)
        if (one.verdict === 'refused') refused.push({ id: one.id, detail: one.detail });
        else if (one.verdict === 'accepted') taken += 1;
        else known += 1;
    }
    return { is: 'done', taken, known, refused, photos, photosRefused: file.pictures.length - photos };
  } catch (error) {
    if (error instanceof Stop) return { is: 'stopped', problem: error.result.problem ?? 'server trouble' };
    throw error;
  }
}

interface Picture {
  readonly hash: string;
  readonly mediaType: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

async function sendPicture({ hash, mediaType, bytes }: Picture, line: Transport): Promise<boolean> {
  let state = orStop(await line.photoState(hash));
  while (!state.complete) {
    const offset = state.received;
    const part = bytes.slice(offset, offset + PART_BYTES);
    const reply = await line.sendPhotoPart({ hash, offset, size: bytes.length, mediaType, bytes: part });
    if (!reply.ok && reply.unfit !== undefined) return false;
    state = orStop(reply);
  }
  return true;
}

/** undefined = not what this app writes. The facts are the server's to judge. */
function readFile(text: string) {
  const said = parse(text);
  if (!isObject(said) || said['format'] !== UNSENT_FORMAT) return undefined;
  const { firm, facts, pictures } = said;
  if (!isObject(firm) || typeof firm['id'] !== 'string') return undefined;
  if (!Array.isArray(facts) || !Array.isArray(pictures)) return undefined;
  const read = pictures.map((one: unknown): Picture | undefined => {
    if (!isObject(one)) return undefined;
    const { hash, mediaType, base64 } = one;
    if (typeof hash !== 'string' || typeof mediaType !== 'string' || typeof base64 !== 'string')
      return undefined;
    const bytes = fromBase64(base64);
    return bytes === undefined || bytes.length === 0 ? undefined : { hash, mediaType, bytes };
  });
  const whole = read.filter((one) => one !== undefined);
  return whole.length === read.length ? { firm: firm['id'], facts, pictures: whole } : undefined;
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function fromBase64(text: string): Uint8Array<ArrayBuffer> | undefined {
  try {
    return Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0));
  } catch {
    return undefined;
  }
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
