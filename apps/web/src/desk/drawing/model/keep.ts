import {
  beginDraft,
  checkSite,
  DEEDS,
  type Draft,
  type Edit,
  LAYERS,
  NO_PEN,
  type Pen,
  readDraft,
  type Site,
  siteOfDraft,
} from '@sillwatch/ring';
import { type Brush, isBrush } from './brush.ts';

/** A drawing under way as it lies on this device. */
export interface Work {
  readonly draft: Draft;
  readonly brush: Brush | null;
  readonly pen: Pen;
}

export type Found =
  | { readonly kind: 'none' }
  | { readonly kind: 'work'; readonly work: Work }
  | { readonly kind: 'broken' };

const VERSION = 1;

function keyOf(person: string, property: string): string {
  return `sillwatch drawing ${person} ${property}`;
}

export function isUntouched({ draft, pen }: Work): boolean {
  return draft.edits.length === 0 && draft.undone.length === 0 && pen.corners.length === 0;
}

/** False where the browser keeps nothing, or has no room for it. */
export function keepWork(person: string, property: string, work: Work): boolean {
  try {
    if (isUntouched(work)) localStorage.removeItem(keyOf(person, property));
    else localStorage.setItem(keyOf(person, property), workToText(work));
    return true;
  } catch {
    return false;
  }
}

export function findWork(person: string, property: string): Found {
  let text: string | null = null;
  try {
    text = localStorage.getItem(keyOf(person, property));
  } catch {
    return { kind: 'none' };
  }
  if (text === null) return { kind: 'none' };
  const work = textToWork(text);
  return work === undefined ? { kind: 'broken' } : { kind: 'work', work };
}

export function dropWork(person: string, property: string): void {
  try {
    localStorage.removeItem(keyOf(person, property));
  } catch {
    // A browser that keeps nothing has nothing to drop.
  }
}

export function workToText({ draft, brush, pen }: Work): string {
  const { base, edits, undone } = draft;
  return JSON.stringify({ version: VERSION, base, edits, undone, brush, pen });
}

/** Undefined where the text is not a drawing of this version that can be worked on. */
export function textToWork(text: string): Work | undefined {
  try {
    const kept: unknown = JSON.parse(text);
    if (!isKept(kept)) return undefined;
    const draft = readDraft(kept.base, kept.edits, kept.undone);
    // Tries every corner of every thing: a list that is none throws here, and not on the page.
    checkSite(siteOfDraft(draft));
    checkSite(beginDraft(kept.base).base);
    const pen = kept.pen.corners.every(({ x, y }) => Number.isFinite(x) && Number.isFinite(y))
      ? kept.pen
      : NO_PEN;
    return { draft, brush: isBrush(kept.brush) ? kept.brush : null, pen };
  } catch {
    return undefined;
  }
}

interface Kept {
  readonly base: Site;
  readonly edits: readonly Edit[];
  readonly undone: readonly Edit[];
  readonly brush: unknown;
  readonly pen: Pen;
}

/** The page wrote it itself: this tells another version, or a text that was cut, from its own. */
function isKept(value: unknown): value is Kept {
  if (!isRecord(value) || value['version'] !== VERSION) return false;
  const { base, edits, undone, pen } = value;
  const lists = LAYERS.filter((layer) => layer !== 'parking');
  return (
    isRecord(base) &&
    lists.every((layer) => Array.isArray(base[layer])) &&
    [edits, undone].every((list) => Array.isArray(list) && list.every(isEdit)) &&
    isRecord(pen) &&
    Array.isArray(pen['corners'])
  );
}

function isEdit(value: unknown): value is Edit {
  if (!isRecord(value)) return false;
  const { deed, put, take } = value;
  return (
    DEEDS.some((known) => known === deed) &&
    Array.isArray(take) &&
    Array.isArray(put) &&
    put.every(
      (thing: unknown) =>
        isRecord(thing) && LAYERS.some((layer) => layer === thing['layer']) && isRecord(thing['value']),
    )
  );
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
