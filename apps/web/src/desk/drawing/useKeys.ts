import { findThing, moveCorner, moveThing, ringsOf } from '@sillwatch/ring';
import type { KeyboardEvent } from 'react';
import { removeSelected } from './selectionPanel.tsx';
import type { Editor } from './useEditor.ts';

/** Metres of one press of an arrow key: an inch or a centimetre. */
const NUDGE = { ft: 0.0254, m: 0.01 } as const;
const SHIFTED = 10;

const ARROWS: Readonly<Record<string, readonly [east: number, north: number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/** The keys of the whole page but for its fields, which keep their own. */
export function useKeys(editor: Editor, inTheGround: ReadonlySet<string>) {
  return (event: KeyboardEvent<HTMLElement>) => {
    const { target, key } = event;
    const isField =
      target instanceof HTMLInputElement ||
      target instanceof HTMLSelectElement ||
      target instanceof HTMLTextAreaElement;
    if (key === 'Escape') {
      letGo(editor);
      return;
    }
    if (isField) return;
    if ((event.ctrlKey || event.metaKey) && key.toLowerCase() === 'z') {
      event.preventDefault();
      if (event.shiftKey) editor.redo();
      else editor.undo();
      return;
    }
    if ((event.ctrlKey || event.metaKey) && key.toLowerCase() === 'y') {
      event.preventDefault();
      editor.redo();
      return;
    }
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (key === 'Delete' || key === 'Backspace') {
      event.preventDefault();
      if (editor.brush !== null) editor.undo();
      else removeSelected(editor, inTheGround);
      return;
    }
    // A length typed while one points at where the wall goes: the figure lands in the field.
    if (editor.brush !== null && /^[\d.]$/.test(key)) {
      event.currentTarget.querySelector<HTMLInputElement>('.draw-wall input')?.focus();
      return;
    }
    const arrow = ARROWS[key];
    if (arrow === undefined || editor.selection === null || editor.brush !== null) return;
    event.preventDefault();
    nudge(editor, arrow, NUDGE[editor.unit] * (event.shiftKey ? SHIFTED : 1), event.repeat);
  };
}

/** A corner of the pen, then the pen, then what is selected. */
function letGo(editor: Editor): void {
  if (editor.pen.corners.length > 0) editor.undo();
  else if (editor.brush !== null) editor.chooseBrush(null);
  else editor.select(null);
}

function nudge(
  editor: Editor,
  [east, north]: readonly [number, number],
  step: number,
  isHeld: boolean,
): void {
  const { selection, site } = editor;
  if (selection === null) return;
  const { id, corner } = selection;
  if (corner === null) {
    editor.run(moveThing(site, id, east * step, north * step), selection, isHeld);
    return;
  }
  const thing = findThing(site, id);
  const at = thing === undefined ? undefined : ringsOf(thing)[corner.ring]?.points[corner.index];
  if (at === undefined) return;
  editor.run(
    moveCorner(site, { id, ...corner }, { x: at.x + east * step, y: at.y + north * step }),
    selection,
    isHeld,
  );
}
