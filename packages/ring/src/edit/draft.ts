import type { Site } from '../site/model.ts';
import { applyEdit, type Edit } from './edit.ts';

/** A drawing under way: what was stored when it began, and every edit since. The site is their fold. */
export interface Draft {
  readonly base: Site;
  readonly edits: readonly Edit[];
  /** Edits taken back, the latest last. */
  readonly undone: readonly Edit[];
  /** The base and the site after each edit: disposable, rebuilt by `readDraft`. */
  readonly sites: readonly Site[];
}

export function beginDraft(base: Site): Draft {
  return { base, edits: [], undone: [], sites: [base] };
}

/** A draft from what is kept of it. */
export function readDraft(base: Site, edits: readonly Edit[], undone: readonly Edit[]): Draft {
  const draft = edits.reduce(recordEdit, beginDraft(base));
  return { ...draft, undone };
}

export function siteOfDraft({ base, sites }: Draft): Site {
  return sites.at(-1) ?? base;
}

/** What was undone before cannot be done again afterwards. */
export function recordEdit(draft: Draft, edit: Edit): Draft {
  return {
    base: draft.base,
    edits: [...draft.edits, edit],
    undone: [],
    sites: [...draft.sites, applyEdit(siteOfDraft(draft), edit)],
  };
}

/** Undefined where there is nothing to take back. */
export function undo(draft: Draft): Draft | undefined {
  const last = draft.edits.at(-1);
  if (last === undefined) return undefined;
  return {
    base: draft.base,
    edits: draft.edits.slice(0, -1),
    undone: [...draft.undone, last],
    sites: draft.sites.slice(0, -1),
  };
}

/** Undefined where nothing was taken back. */
export function redo(draft: Draft): Draft | undefined {
  const next = draft.undone.at(-1);
  if (next === undefined) return undefined;
  return { ...recordEdit(draft, next), undone: draft.undone.slice(0, -1) };
}
