import type { Georeference, Site } from '../site/model.ts';
import { putThing, type Thing, takeThing } from './things.ts';

/** What a person did, so that undo can say what it takes back. */
export const DEEDS = [
  'drawn',
  'moved',
  'reshaped',
  'described',
  'removed',
  'brought in',
  'placed on the earth',
  'stations taken over',
  'kept of both',
] as const;
export type Deed = (typeof DEEDS)[number];

/** One edit as a value: what it puts on the drawing and takes from it. Nothing is remembered beside it. */
export interface Edit {
  readonly deed: Deed;
  readonly put: readonly Thing[];
  readonly take: readonly string[];
  /** Present where the edit says where the drawing lies; null = nowhere in particular. */
  readonly georeference?: Georeference | null;
}

export const EDIT_FAULTS = [
  'no such thing',
  'not a number',
  'too far away',
  'nothing changes',
  'too few corners',
  'no such wall',
  'wall too short',
  'in the ground',
  'stations round it',
  'same id twice',
  'length out of range',
  'same place twice',
  'does not fit',
] as const;
export type EditFault = (typeof EDIT_FAULTS)[number];

export type EditResult =
  | { readonly ok: true; readonly edit: Edit }
  | { readonly ok: false; readonly fault: EditFault };

export function refuse(fault: EditFault): EditResult {
  return { ok: false, fault };
}

export function accept(edit: Omit<Edit, 'take'> & { readonly take?: readonly string[] }): EditResult {
  return { ok: true, edit: { take: [], ...edit } };
}

/** The site after the edit; what an edit takes goes before what it puts. */
export function applyEdit(site: Site, { put, take, georeference }: Edit): Site {
  const rest = take.reduce(takeThing, site);
  const whole = put.reduce(putThing, rest);
  return georeference === undefined ? whole : { ...whole, georeference: georeference ?? undefined };
}
