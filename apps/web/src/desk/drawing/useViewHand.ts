import type { Point, SiteDrawing } from '@sillwatch/ring';
import { type PointerEvent, useRef, type WheelEvent } from 'react';
import { sheetToMetres } from '../../shared/siteSheet.ts';

/** Where something happened on the screen, and on which element. */
interface OnScreen {
  readonly clientX: number;
  readonly clientY: number;
  readonly currentTarget: Element;
}

interface Options {
  readonly drawing: SiteDrawing;
  readonly onPan: (east: number, north: number) => void;
  readonly onZoom: (factor: number, about: Point) => void;
}

/** What two fingers and the wheel do on the picture: they move the view and bring it closer, and touch nothing that is drawn. */
export function useViewHand({ drawing, onPan, onZoom }: Options) {
  const fingers = useRef(new Map<number, { readonly x: number; readonly y: number }>());
  const perPixel = 1 / drawing.unitsPerMetre;
  return {
    /** A finger comes down; true when it is not the only one. */
    press: (event: PointerEvent<SVGSVGElement>): boolean => {
      if (event.pointerType !== 'touch') return false;
      fingers.current.set(event.pointerId, { x: event.clientX, y: event.clientY });
      return fingers.current.size > 1;
    },
    lift: (event: PointerEvent<SVGSVGElement>): void => {
      fingers.current.delete(event.pointerId);
    },
    /** A finger moves; true while there are two of them. */
    pinch: (event: PointerEvent<SVGSVGElement>): boolean => {
      const known = fingers.current;
      const before = known.get(event.pointerId);
      if (before === undefined) return false;
      const now = { x: event.clientX, y: event.clientY };
      known.set(event.pointerId, now);
      const other = [...known].find(([id]) => id !== event.pointerId)?.[1];
      if (other === undefined) return false;
      const apart = (finger: typeof now) => Math.hypot(finger.x - other.x, finger.y - other.y);
      const middle = { clientX: (now.x + other.x) / 2, clientY: (now.y + other.y) / 2 };
      onPan(((before.x - now.x) / 2) * perPixel, ((now.y - before.y) / 2) * perPixel);
      if (apart(now) > 0 && apart(before) > 0)
        onZoom(
          apart(before) / apart(now),
          placeOn(drawing, { ...middle, currentTarget: event.currentTarget }),
        );
      return true;
    },
    onWheel: (event: WheelEvent<SVGSVGElement>): void => {
      if (event.deltaY === 0) return;
      onZoom(Math.exp(Math.max(-100, Math.min(100, event.deltaY)) / 400), placeOn(drawing, event));
    },
  };
}

/** Metres on the drawing under a place on the screen. */
export function placeOn(drawing: SiteDrawing, { clientX, clientY, currentTarget }: OnScreen): Point {
  const box = currentTarget.getBoundingClientRect();
  const x = ((clientX - box.left) / box.width) * drawing.width;
  const y = ((clientY - box.top) / box.height) * drawing.height;
  return sheetToMetres(drawing, x, y);
}
