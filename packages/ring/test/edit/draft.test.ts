import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyEdit,
  beginDraft,
  checkSite,
  compareSites,
  type Draft,
  type Edit,
  moveCorner,
  moveThing,
  readDraft,
  rebase,
  recordEdit,
  redo,
  type Site,
  siteOfDraft,
  undo,
} from '../../src/index.ts';
import { houseOf, rectangle } from '../placement/support/sites.ts';
import { evaluateStroke, type Stroke, startSites, strokes } from './randomEdits.ts';

function workThrough(start: Draft, all: readonly Stroke[]): Draft {
  return all.reduce((draft, stroke, count) => {
    const result = evaluateStroke(siteOfDraft(draft), stroke, count);
    return result.ok ? recordEdit(draft, result.edit) : draft;
  }, start);
}

function undoAll(draft: Draft): Draft {
  let left = draft;
  for (let next = undo(left); next !== undefined; next = undo(left)) left = next;
  return left;
}

function redoAll(draft: Draft): Draft {
  let left = draft;
  for (let next = redo(left); next !== undefined; next = redo(left)) left = next;
  return left;
}

describe('a drawing under way', () => {
  it('comes back to the very start when all is undone, and to the very end when all is done again', () => {
    fc.assert(
      fc.property(startSites, strokes, (base, all) => {
        const done = workThrough(beginDraft(base), all);
        const back = undoAll(done);
        expect(siteOfDraft(back)).toBe(base);
        expect(back.edits).toEqual([]);
        const again = redoAll(back);
        expect(siteOfDraft(again)).toEqual(siteOfDraft(done));
        expect(again.edits).toEqual(done.edits);
      }),
    );
  });

  it('never holds a number that is none, and checkSite can always tell what is wrong with it', () => {
    fc.assert(
      fc.property(startSites, strokes, (base, all) => {
        for (const site of workThrough(beginDraft(base), all).sites) {
          const problems = checkSite(site);
          expect(problems.filter(({ fault }) => fault === 'not_a_number')).toEqual([]);
          expect(problems.filter(({ fault }) => fault === 'too_few_corners')).toEqual([]);
          expect(problems.filter(({ fault }) => fault === 'path_too_short')).toEqual([]);
        }
      }),
    );
  });

  it('is the same after it was kept as text and read again', () => {
    fc.assert(
      fc.property(startSites, strokes, (base, all) => {
        const draft = undo(workThrough(beginDraft(base), all)) ?? beginDraft(base);
        const kept: Pick<Draft, 'base' | 'edits' | 'undone'> = JSON.parse(
          JSON.stringify({ base: draft.base, edits: draft.edits, undone: draft.undone }),
        );
        const read = readDraft(kept.base, kept.edits, kept.undone);
        const plain = (site: Site): unknown => JSON.parse(JSON.stringify(site));
        expect(plain(siteOfDraft(read))).toEqual(plain(siteOfDraft(draft)));
        expect(read.undone).toEqual(kept.undone);
      }),
    );
  });

  it('forgets what was undone once something else is drawn', () => {
    const base = houseOf(rectangle(0, 0, 10, 8));
    const one = recordEdit(beginDraft(base), edit(moveThing(base, 'house', 1, 0)));
    const back = undo(one);
    if (back === undefined) throw new Error('one edit was made');
    const other = recordEdit(back, edit(moveThing(base, 'house', 0, 1)));
    expect(redo(other)).toBe(undefined);
  });
});

describe('two people at one drawing', () => {
  const base = { ...houseOf(rectangle(0, 0, 10, 8)), parking: { x: -6, y: 0 } };

  it('keeps what the other changed elsewhere, and says so', () => {
    const mine = recordEdit(beginDraft(base), edit(moveCorner(base, corner('house', 2), { x: 12, y: 8 })));
    const stored = applyEdit(base, edit(moveThing(base, 'parking', 0, 3)));
    const result = rebase(mine, stored);
    if (!result.ok) throw new Error('nobody placed it on the earth');
    expect(result.theirs.map(({ thing }) => thing.value.id)).toEqual(['parking']);
    expect(result.both).toEqual([]);
    const merged = siteOfDraft(result.draft);
    expect(merged.parking).toEqual({ x: -6, y: 3 });
    expect(merged.structures[0]?.outline[2]).toEqual({ x: 12, y: 8 });
  });

  it('names what both changed', () => {
    const mine = recordEdit(beginDraft(base), edit(moveCorner(base, corner('house', 2), { x: 12, y: 8 })));
    const stored = applyEdit(base, edit(moveCorner(base, corner('house', 0), { x: -1, y: 0 })));
    const result = rebase(mine, stored);
    expect(result.ok && result.both).toEqual(['house']);
  });

  it('does not mix metres of two places', () => {
    const mine = recordEdit(beginDraft(base), edit(moveThing(base, 'house', 1, 0)));
    const stored = { ...base, georeference: { longitude: 1, latitude: 2 } };
    expect(rebase(mine, stored).ok).toBe(false);
  });

  it('differs from itself in nothing, whatever was done, and from another by what was put and taken', () => {
    fc.assert(
      fc.property(startSites, strokes, (start, all) => {
        const done = siteOfDraft(workThrough(beginDraft(start), all));
        expect(compareSites(done, done)).toEqual([]);
        const differences = compareSites(start, done);
        const patch: Edit = {
          deed: 'kept of both',
          put: differences.flatMap(({ change, thing }) => (change === 'removed' ? [] : [thing])),
          take: differences.flatMap(({ change, thing }) => (change === 'removed' ? [thing.value.id] : [])),
        };
        expect(compareSites(applyEdit(start, patch), done)).toEqual([]);
      }),
    );
  });
});

function corner(id: string, index: number) {
  return { id, ring: 0, index };
}

function edit(result: ReturnType<typeof moveThing>): Edit {
  if (!result.ok) throw new Error(result.fault);
  return result.edit;
}
