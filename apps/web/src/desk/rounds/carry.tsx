import {
  createContext,
  type PointerEvent as ReactPointerEvent,
  type RefObject,
  useContext,
  useEffect,
  useRef,
  useState,
} from 'react';
import { askMove, type Cell, type PlanAnswer } from '../../api/plans.ts';
import { createTries, type Tried, type Tries } from './tries.ts';

/** A visit, or work that is in no round, to be put somewhere else. */
export interface Movable {
  /** Id of the visit, or key of the work. */
  readonly visit: string;
  readonly property: string;
  /** null = in no round so far */
  readonly from: (Cell & { readonly position: number }) | null;
}

/** What is under the pointer while a visit is dragged. */
export interface Carried {
  readonly item: Movable;
  /** The grid of the weeks is out of reach, so a small one comes along. */
  readonly board: 'top' | 'bottom' | undefined;
  readonly over: Cell | undefined;
  readonly tried: Tried | undefined;
}

interface Carry {
  readonly carried: Carried | undefined;
  /** To be handed the press on whatever stands for the visit; a press that does not move stays a press. */
  readonly lift: (event: ReactPointerEvent, item: Movable, source: 'weeks' | 'list') => void;
}

export const CarryContext = createContext<Carry>({ carried: undefined, lift: () => {} });

export function useCarried(): Carry {
  return useContext(CarryContext);
}

/** Pixels that a press may tremble before it becomes a drag. */
const TREMBLE = 6;
/** Closer to an edge than this, what lies beyond comes into view. */
const EDGE = 48;
const SCROLL_STEP = 9;
const TURN_MILLISECONDS = 650;

/** A visit let go over a cell. */
export interface Drop {
  readonly item: Movable;
  readonly to: Cell;
  readonly tried: Promise<Tried>;
  /** The plan as it was when it was tried: what somebody else did since is not overrun. */
  readonly answer: PlanAnswer;
}

interface Options {
  readonly answer: PlanAnswer;
  readonly ghost: RefObject<HTMLElement | null>;
  readonly onDrop: (drop: Drop) => void;
  /** The board's week, by `step`. */
  readonly onTurn: (step: number) => void;
  readonly onLift: (item: Movable) => void;
}

/** Dragging by mouse, pen or finger, with pointer events alone. Cells say what they are in `data-day` and `data-person`. */
export function useCarry(options: Options): Carry {
  const [carried, setCarried] = useState<Carried | undefined>();
  const latest = useRef(options);
  latest.current = options;
  const ending = useRef<(() => void) | undefined>(undefined);
  useEffect(() => () => ending.current?.(), []);

  function lift(press: ReactPointerEvent, item: Movable, source: 'weeks' | 'list'): void {
    if (press.button !== 0 || !press.isPrimary || ending.current !== undefined) return;
    const { pointerId } = press;
    const start = { x: press.clientX, y: press.clientY };
    const at = { ...start };
    const { answer } = latest.current;
    let tries: Tries | undefined;
    let over: Cell | undefined;
    let board: Carried['board'];
    let turning: { readonly step: number; readonly since: number } | undefined;
    let frame = 0;

    const show = (): void => {
      if (tries === undefined) return;
      setCarried({ item, board, over, tried: over === undefined ? undefined : tries.look(over) });
    };
    const find = (): void => {
      const under = document.elementFromPoint(at.x, at.y);
      const cell = under?.closest<HTMLElement>('[data-day][data-person]');
      const { day, person } = cell?.dataset ?? {};
      const now = day === undefined || person === undefined ? undefined : { day, person };
      const step = Number(under?.closest<HTMLElement>('[data-turn]')?.dataset['turn'] ?? 0);
      turning = step === 0 ? undefined : { step, since: turning?.since ?? performance.now() };
      if (now?.day === over?.day && now?.person === over?.person) return;
      over = now !== undefined && !isSame(now, item.from) ? now : undefined;
      if (over === undefined) tries?.end();
      show();
    };
    const place = (): void => {
      const ghost = latest.current.ghost.current;
      if (ghost === null) return;
      const { offsetWidth: width, offsetHeight: height } = ghost;
      // Above a finger, which would cover it; beside a mouse.
      const isFinger = press.pointerType === 'touch';
      const x = isFinger ? at.x - width / 2 : at.x + 16;
      const y = isFinger ? at.y - height - 36 : at.y + 16;
      ghost.style.transform = `translate(${clamp(x, 8, innerWidth - width - 8)}px, ${clamp(y, 8, innerHeight - height - 8)}px)`;
    };
    const everyFrame = (): void => {
      frame = requestAnimationFrame(everyFrame);
      scrollNear(at);
      if (turning !== undefined && performance.now() - turning.since > TURN_MILLISECONDS) {
        latest.current.onTurn(turning.step);
        turning = { step: turning.step, since: performance.now() };
      }
      find();
      place();
    };
    const begin = (): void => {
      tries = createTries(
        async (cell, signal) => (await askMove(answer, 'try', item.visit, cell, signal)).move,
        show,
      );
      const isNarrow = !matchMedia('(min-width: 60rem)').matches;
      if (source === 'list' || isNarrow) board = start.y > innerHeight / 2 ? 'top' : 'bottom';
      document.documentElement.classList.add('carrying');
      latest.current.onLift(item);
      // The server opens the plan in a thread of its own at the first question; the way to the first cell is long enough for it.
      if (item.from !== null) void askMove(answer, 'try', item.visit, item.from).catch(() => {});
      show();
      everyFrame();
    };
    const onMove = (event: PointerEvent): void => {
      if (event.pointerId !== pointerId) return;
      at.x = event.clientX;
      at.y = event.clientY;
      if (tries === undefined && Math.hypot(at.x - start.x, at.y - start.y) > TREMBLE) begin();
    };
    const onUp = (event: PointerEvent): void => {
      if (event.pointerId !== pointerId) return;
      if (tries !== undefined) {
        at.x = event.clientX;
        at.y = event.clientY;
        find();
        swallowClick();
        if (over !== undefined) latest.current.onDrop({ item, to: over, tried: tries.settle(over), answer });
      }
      end(false);
    };
    const onCancel = (event: PointerEvent): void => {
      if (event.pointerId === pointerId) end(true);
    };
    const onKey = (event: KeyboardEvent): void => {
      if (event.key !== 'Escape') return;
      event.preventDefault();
      if (tries !== undefined) swallowClick();
      end(true);
    };
    const end = (isOff: boolean): void => {
      cancelAnimationFrame(frame);
      if (isOff) tries?.end();
      removeEventListener('pointermove', onMove);
      removeEventListener('pointerup', onUp);
      removeEventListener('pointercancel', onCancel);
      removeEventListener('keydown', onKey, true);
      document.documentElement.classList.remove('carrying');
      ending.current = undefined;
      setCarried(undefined);
    };
    ending.current = () => end(true);
    addEventListener('pointermove', onMove);
    addEventListener('pointerup', onUp);
    addEventListener('pointercancel', onCancel);
    addEventListener('keydown', onKey, true);
  }

  return { carried, lift };
}

export function isSame(a: Cell, b: Cell | null | undefined): boolean {
  return a.day === b?.day && a.person === b.person;
}

/** The button that was pressed does not also count as clicked when the visit is let go over it. */
function swallowClick(): void {
  const swallow = (event: Event): void => {
    event.stopPropagation();
    event.preventDefault();
  };
  addEventListener('click', swallow, { capture: true, once: true });
  setTimeout(() => removeEventListener('click', swallow, true), 50);
}

/** Brings what lies beyond the edge of the board, or of the window, into view. */
function scrollNear({ x, y }: { readonly x: number; readonly y: number }): void {
  const board = document.querySelector('.drop-people');
  const room = board?.getBoundingClientRect();
  if (
    board != null &&
    room !== undefined &&
    y >= room.top &&
    y <= room.bottom &&
    x >= room.left &&
    x <= room.right
  ) {
    if (y - room.top < EDGE / 2) board.scrollTop -= SCROLL_STEP;
    else if (room.bottom - y < EDGE / 2) board.scrollTop += SCROLL_STEP;
  } else if (board === null) {
    if (y < EDGE) scrollBy(0, -SCROLL_STEP);
    else if (y > innerHeight - EDGE) scrollBy(0, SCROLL_STEP);
  }
}

function clamp(value: number, least: number, most: number): number {
  return Math.max(least, Math.min(value, most));
}
