import {
  applyEdit,
  beginDraft,
  compareSites,
  type Draft,
  type Edit,
  type EditFault,
  type EditResult,
  isSamePlace,
  type LengthUnit,
  NO_PEN,
  type Pen,
  recordEdit,
  redo as redoDraft,
  type Site,
  siteOfDraft,
  undo as undoDraft,
  withoutLast,
} from '@sillwatch/ring';
import { type RefObject, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { Brush } from './model/brush.ts';
import { dropWork, findWork, isUntouched, keepWork, type Work } from './model/keep.ts';
import { type Selection, stillThere } from './model/selection.ts';

const UNIT_KEY = 'sillwatch drawing unit';

/** How the draft stands towards what is stored and what was kept. */
export type Standing = 'as stored' | 'taken up again' | 'broken' | 'changed';

export interface Editor {
  readonly draft: Draft;
  /** As drawn, with the edit under the hand. */
  readonly site: Site;
  readonly standing: Standing;
  /** False where this browser cannot keep the draft. */
  readonly isKept: boolean;
  readonly selection: Selection | null;
  readonly brush: Brush | null;
  readonly pen: Pen;
  readonly unit: LengthUnit;
  readonly isSnapping: boolean;
  /** By structure, the numbers that stations of the property have, and the last of them. */
  readonly numbers: ReadonlyMap<string, ReadonlySet<number>>;
  readonly numbered: ReadonlyMap<string, number>;
  /** The direction from the last corner to the pointer while it is over the picture, degrees; null elsewhere. */
  readonly pointed: RefObject<number | null>;
  /** A station in the ground that gets its place with the next press. */
  readonly placing: PlacedStation | null;
  /** Why the last edit was not made. */
  readonly fault: EditFault | null;
  select(selection: Selection | null): void;
  /**
   * Records an edit, or shows why it is none; tells which. `goesOn`: it carries the last edit of the same thing further (a key that is
   * held down), and both are undone as one.
   */
  run(result: EditResult, after?: Selection | null, goesOn?: boolean): boolean;
  /** Shows an edit that is not yet made; null takes it away. */
  preview(edit: Edit | null): void;
  undo(): void;
  redo(): void;
  chooseBrush(brush: Brush | null, placing?: PlacedStation): void;
  setPen(pen: Pen): void;
  setUnit(unit: LengthUnit): void;
  setSnapping(isOn: boolean): void;
  /** Another draft in place of this one: after it was stored, or carried over to another. */
  replace(draft: Draft): void;
  throwAway(): void;
}

export interface PlacedStation {
  readonly id: string;
  readonly number: number;
  readonly structureId: string;
}

/** The drawing under way with all that is done to it; kept on this device with every change. */
export function useEditor(
  person: string,
  property: string,
  stored: Site,
  numbers: ReadonlyMap<string, ReadonlySet<number>>,
): Editor {
  const [first] = useState(() => begin(person, property, stored));
  const [work, setWork] = useState<Work>(first.work);
  const [standing, setStanding] = useState<Standing>(first.standing);
  const [isKept, setKept] = useState(true);
  const [selection, setSelection] = useState<Selection | null>(null);
  const [under, setUnder] = useState<Edit | null>(null);
  const [fault, setFault] = useState<EditFault | null>(null);
  const [unit, setUnit] = useState<LengthUnit>(() => readUnit());
  const [isSnapping, setSnapping] = useState(true);
  const [placing, setPlacing] = useState<PlacedStation | null>(null);
  const { draft, brush, pen } = work;
  const pointed = useRef<number | null>(null);

  const isFresh = useRef(true);
  useEffect(() => {
    if (isFresh.current) isFresh.current = false;
    else setKept(keepWork(person, property, work));
  }, [person, property, work]);

  // Nothing was drawn yet: what others stored meanwhile is simply shown.
  useEffect(() => {
    setWork((now) =>
      isUntouched(now) && !isSameSite(now.draft.base, stored) ? { ...now, draft: beginDraft(stored) } : now,
    );
  }, [stored]);

  const numbered = useMemo(
    () => new Map([...numbers].map(([structure, ring]) => [structure, Math.max(0, ...ring)])),
    [numbers],
  );

  // Where nothing can be kept, the browser asks before the page is left.
  const isAtRisk = !isKept && !isUntouched(work);
  useEffect(() => {
    if (!isAtRisk) return;
    const ask = (event: BeforeUnloadEvent) => event.preventDefault();
    addEventListener('beforeunload', ask);
    return () => removeEventListener('beforeunload', ask);
  }, [isAtRisk]);

  const site = useMemo(() => {
    const drawn = siteOfDraft(draft);
    return under === null ? drawn : applyEdit(drawn, under);
  }, [draft, under]);

  const replace = useCallback((next: Draft) => {
    setWork((now) => ({ ...now, draft: next }));
    setUnder(null);
    setFault(null);
    setSelection((now) => stillThere(siteOfDraft(next), now));
    setStanding(next.edits.length === 0 ? 'as stored' : 'changed');
  }, []);

  return {
    draft,
    site,
    standing,
    isKept,
    selection: stillThere(site, selection),
    brush,
    pen,
    unit,
    isSnapping,
    numbers,
    numbered,
    pointed,
    placing: brush === 'station' ? placing : null,
    fault,
    select(next) {
      setSelection(next);
      setFault(null);
    },
    run(result, after, goesOn) {
      setUnder(null);
      if (!result.ok) {
        setFault(result.fault);
        return false;
      }
      const before = goesOn === true && isOfSameThing(draft, result.edit) ? undoDraft(draft) : undefined;
      replace(recordEdit(before ?? draft, result.edit));
      if (after !== undefined) setSelection(after);
      return true;
    },
    preview: setUnder,
    undo() {
      if (pen.corners.length > 0) return setWork((now) => ({ ...now, pen: withoutLast(now.pen) }));
      const before = undoDraft(draft);
      if (before !== undefined) replace(before);
    },
    redo() {
      const after = redoDraft(draft);
      if (after !== undefined) replace(after);
    },
    chooseBrush(next, station) {
      setPlacing(station ?? null);
      setWork((now) => ({ ...now, brush: next, pen: NO_PEN }));
      setFault(null);
      setUnder(null);
    },
    setPen(next) {
      setWork((now) => ({ ...now, pen: next }));
      setFault(null);
    },
    setUnit(next) {
      setUnit(next);
      keepUnit(next);
    },
    setSnapping,
    replace,
    throwAway() {
      dropWork(person, property);
      setWork({ draft: beginDraft(stored), brush: null, pen: NO_PEN });
      setSelection(null);
      setFault(null);
      setStanding('as stored');
    },
  };
}

function isOfSameThing({ edits }: Draft, { put }: Edit): boolean {
  const last = edits.at(-1);
  return (
    last?.put.length === 1 &&
    last.take.length === 0 &&
    last.put[0]?.value.id === put[0]?.value.id &&
    put.length === 1
  );
}

export function isSameSite(one: Site, other: Site): boolean {
  return isSamePlace(one.georeference, other.georeference) && compareSites(one, other).length === 0;
}

function begin(person: string, property: string, stored: Site): { work: Work; standing: Standing } {
  const fresh: Work = { draft: beginDraft(stored), brush: null, pen: NO_PEN };
  const found = findWork(person, property);
  switch (found.kind) {
    case 'none':
      return { work: fresh, standing: 'as stored' };
    case 'broken':
      return { work: fresh, standing: 'broken' };
    case 'work':
      return { work: found.work, standing: 'taken up again' };
  }
}

function readUnit(): LengthUnit {
  try {
    return localStorage.getItem(UNIT_KEY) === 'm' ? 'm' : 'ft';
  } catch {
    return 'ft';
  }
}

function keepUnit(unit: LengthUnit): void {
  try {
    localStorage.setItem(UNIT_KEY, unit);
  } catch {
    // A browser that keeps nothing still draws in it for now.
  }
}
