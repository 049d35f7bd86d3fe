import {
  applyEdit,
  azimuthOf,
  type Corner,
  closePen,
  type Edit,
  endsOf,
  findThing,
  type Guide,
  guidesFrom,
  guidesRound,
  moveCorner,
  moveThing,
  type Pen,
  type Point,
  penTo,
  ringsOf,
  type Site,
  type SiteDrawing,
  type Snapped,
  snap,
  splitWall,
} from '@sillwatch/ring';
import { type PointerEvent, useRef, useState } from 'react';
import { shapeOf } from './model/brush.ts';
import { cornerOf, hitAt, wholeOf } from './model/selection.ts';
import type { Editor } from './useEditor.ts';
import { placeOn, useViewHand } from './useViewHand.ts';

/** A press that travels farther than this is a drag, CSS pixels. */
const DRAG_PX = 5;
/** How near one must press, CSS pixels: a mouse, a finger. */
const REACH_PX = { mouse: 11, touch: 22 } as const;
/** How far a place is drawn to what is regular, CSS pixels. */
const SNAP_PX = 11;
/** Whole lengths that places come in, metres; the smallest that can be told apart on the screen is taken. */
const STEPS = { ft: [0.0254, 0.1524, 0.3048], m: [0.01, 0.05, 0.1] } as const;
const STEP_PX = 3;

type Drag =
  | { readonly kind: 'corner'; readonly corner: Corner; readonly start: Point }
  | { readonly kind: 'middle'; readonly corner: Corner; readonly start: Point }
  | { readonly kind: 'thing'; readonly id: string; readonly start: Point }
  | { readonly kind: 'pan'; readonly x: number; readonly y: number; readonly isGround: boolean }
  /** `start`: where a finger began the first wall; with a mouse its corner is set at once. */
  | { readonly kind: 'draw'; readonly start: Point | null };

interface Options {
  readonly editor: Editor;
  readonly drawing: SiteDrawing;
  /** The site without the edit under the hand. */
  readonly drawn: Site;
  readonly onPan: (east: number, north: number) => void;
  readonly onZoom: (factor: number, about: Point) => void;
  /** The pen is closed or a place was pressed. */
  readonly onDrawn: (points: readonly Point[]) => void;
}

/** What a hand does on the picture: selects, drags corners and things, draws, moves the view. Every drag is one edit. */
export function usePointer({ editor, drawing, drawn, onPan, onZoom, onDrawn }: Options) {
  const drag = useRef<Drag | null>(null);
  const from = useRef<{ readonly x: number; readonly y: number; travelled: boolean } | null>(null);
  const pending = useRef<Edit | null>(null);
  const [hover, setHover] = useState<Snapped | null>(null);
  const { brush, pen, selection } = editor;
  const perPixel = 1 / drawing.unitsPerMetre;

  const view = useViewHand({ drawing, onPan, onZoom });
  const question = (event: { altKey: boolean }, guides: readonly Guide[]) => ({
    site: drawn,
    reachMetres: editor.isSnapping && !event.altKey ? SNAP_PX * perPixel : 0,
    stepMetres: stepOf(editor.unit, drawing.unitsPerMetre),
    guides,
  });
  const penPlace = (event: PointerEvent<SVGSVGElement>): Snapped => {
    const last = pen.corners.at(-1);
    return snap(placeOn(drawing, event), {
      ...question(event, [
        ...guidesFrom(pen.corners.at(-2), last),
        ...guidesFrom(pen.corners[1], pen.corners[0]),
      ]),
      corners: pen.corners.slice(0, -1),
      ...(last === undefined ? {} : { from: last }),
    });
  };
  const show = (edit: Edit | null) => {
    pending.current = edit;
    editor.preview(edit);
  };

  const onPointerDown = (event: PointerEvent<SVGSVGElement>) => {
    if (event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    // A second finger means the view: what the first began is let go.
    if (view.press(event)) return letGo();
    from.current = { x: event.clientX, y: event.clientY, travelled: false };
    const at = placeOn(drawing, event);
    if (brush !== null) {
      const isFirst = shapeOf(brush) !== 'place' && pen.corners.length === 0;
      const { at: first } = penPlace(event);
      drag.current = { kind: 'draw', start: isFirst && event.pointerType === 'touch' ? first : null };
      if (isFirst && event.pointerType !== 'touch') addCorner(pen, first);
      return;
    }
    const reach = (event.pointerType === 'touch' ? REACH_PX.touch : REACH_PX.mouse) * perPixel;
    const hit = hitAt(drawn, at, reach, selection);
    if (hit === undefined) {
      drag.current = { kind: 'pan', x: event.clientX, y: event.clientY, isGround: true };
    } else if (hit.kind === 'corner') {
      editor.select(cornerOf(hit.corner));
      drag.current = { kind: 'corner', corner: hit.corner, start: at };
    } else if (hit.kind === 'middle') {
      editor.select(cornerOf(hit.corner));
      drag.current = { kind: 'middle', corner: hit.corner, start: at };
    } else if (isPlace(drawn, hit.id)) {
      editor.select(wholeOf(hit.id));
      drag.current = { kind: 'corner', corner: { id: hit.id, ring: 0, index: 0 }, start: at };
    } else if (selection?.id === hit.id) {
      drag.current = { kind: 'thing', id: hit.id, start: at };
    } else {
      // The first press selects; only what is selected can be dragged away.
      editor.select(wholeOf(hit.id));
      drag.current = { kind: 'pan', x: event.clientX, y: event.clientY, isGround: false };
    }
  };

  const onPointerMove = (event: PointerEvent<SVGSVGElement>) => {
    if (view.pinch(event)) return;
    const started = from.current;
    if (started !== null && Math.hypot(event.clientX - started.x, event.clientY - started.y) > DRAG_PX)
      started.travelled = true;
    if (brush !== null) {
      const next = penPlace(event);
      const last = pen.corners.at(-1);
      editor.pointed.current =
        last === undefined || event.pointerType === 'touch'
          ? null
          : azimuthOf(next.at.x - last.x, next.at.y - last.y);
      return setHover(next);
    }
    const now = drag.current;
    if (now === null || started?.travelled !== true) return;
    switch (now.kind) {
      case 'pan': {
        onPan((now.x - event.clientX) * perPixel, (event.clientY - now.y) * perPixel);
        drag.current = { ...now, x: event.clientX, y: event.clientY };
        return;
      }
      case 'corner': {
        const snapped = cornerPlace(event, drawn, now.corner);
        setHover(snapped);
        const result = moveCorner(drawn, now.corner, snapped.at);
        return show(result.ok ? result.edit : null);
      }
      case 'middle': {
        const split = splitWall(drawn, now.corner);
        if (!split.ok) return;
        const whole = applyEdit(drawn, split.edit);
        const corner = { ...now.corner, index: now.corner.index + 1 };
        const snapped = cornerPlace(event, whole, corner);
        setHover(snapped);
        const moved = moveCorner(whole, corner, snapped.at);
        return show(moved.ok ? { ...moved.edit, deed: 'reshaped' } : null);
      }
      case 'thing': {
        const at = placeOn(drawing, event);
        const step = stepOf(editor.unit, drawing.unitsPerMetre);
        const whole = (value: number) => Math.round(value / step) * step;
        const result = moveThing(drawn, now.id, whole(at.x - now.start.x), whole(at.y - now.start.y));
        return show(result.ok ? result.edit : null);
      }
      case 'draw':
        return;
    }
  };

  const cornerPlace = (
    event: PointerEvent<SVGSVGElement>,
    site: Site,
    { id, ring, index }: Corner,
  ): Snapped => {
    const thing = findThing(site, id);
    const own = thing === undefined ? undefined : ringsOf(thing)[ring];
    const before = own === undefined ? undefined : endsOf(own, index - 1)?.[0];
    return snap(placeOn(drawing, event), {
      ...question(event, own === undefined || own.points.length < 2 ? [] : guidesRound(own, index)),
      skip: id,
      ...(before === undefined ? {} : { from: before }),
    });
  };

  const addCorner = (to: Pen, at: Point): Pen => {
    const next = penTo(to, at);
    if (!next.ok) return to;
    editor.setPen(next.pen);
    return next.pen;
  };

  const letGo = () => {
    drag.current = null;
    from.current = null;
    setHover(null);
    show(null);
  };

  const onPointerUp = (event: PointerEvent<SVGSVGElement>) => {
    view.lift(event);
    const now = drag.current;
    const started = from.current;
    drag.current = null;
    from.current = null;
    if (now?.kind === 'draw' && brush !== null) {
      const { at } = penPlace(event);
      if (shapeOf(brush) === 'place') return onDrawn([at]);
      if (shapeOf(brush) === 'outline' && pen.corners.length >= 3) {
        const first = pen.corners[0];
        if (first !== undefined && Math.hypot(first.x - at.x, first.y - at.y) < 1e-6) {
          const closed = closePen(pen, 'wall');
          if (closed.ok) return onDrawn(closed.outline);
        }
      }
      if (now.start !== null) {
        const begun = addCorner(pen, now.start);
        if (started?.travelled === true) addCorner(begun, at);
        return setHover(null);
      }
      const last = pen.corners.at(-1);
      if (last !== undefined && Math.hypot(last.x - at.x, last.y - at.y) * drawing.unitsPerMetre > DRAG_PX)
        addCorner(pen, at);
      if (event.pointerType === 'touch') setHover(null);
      return;
    }
    setHover(null);
    const edit = pending.current;
    show(null);
    if (edit !== null && now !== null && now.kind !== 'pan') {
      const after =
        now.kind === 'middle'
          ? cornerOf({ ...now.corner, index: now.corner.index + 1 })
          : (selection ?? null);
      editor.run({ ok: true, edit }, after);
      return;
    }
    if (now?.kind === 'pan' && now.isGround && started?.travelled === false) editor.select(null);
  };

  const onPointerCancel = (event: PointerEvent<SVGSVGElement>) => {
    view.lift(event);
    letGo();
  };

  return {
    hover,
    handlers: {
      onPointerDown,
      onPointerMove,
      onPointerUp,
      onPointerCancel,
      onPointerLeave: () => {
        editor.pointed.current = null;
        if (drag.current === null) setHover(null);
      },
      onWheel: view.onWheel,
    },
  };
}

export function stepOf(unit: 'ft' | 'm', unitsPerMetre: number): number {
  const steps: readonly number[] = STEPS[unit];
  return steps.find((step) => step * unitsPerMetre >= STEP_PX) ?? steps[steps.length - 1] ?? 0.01;
}

function isPlace(site: Site, id: string): boolean {
  const thing = findThing(site, id);
  const [ring] = thing === undefined ? [] : ringsOf(thing);
  return ring?.points.length === 1;
}
