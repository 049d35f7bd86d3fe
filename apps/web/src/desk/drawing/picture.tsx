import type { Box, Point, Site, StationMark } from '@sillwatch/ring';
import { useEffect, useId, useMemo, useRef, useState } from 'react';
import { Shapes, SiteShapes } from '../../shared/siteDrawing.tsx';
import { useWidth } from '../../shared/width.ts';
import { useWords } from '../../words/index.ts';
import { handlesOf } from './model/selection.ts';
import { isOutside, shifted, wholeWindow, zoomed } from './model/window.ts';
import { type Ghost, Overlay } from './overlay.tsx';
import type { Editor } from './useEditor.ts';
import { usePointer } from './usePointer.ts';
import { useSheet } from './useSheet.ts';

interface Props {
  readonly editor: Editor;
  readonly drawn: Site;
  readonly marks: ReadonlyMap<string, StationMark>;
  readonly ghosts: readonly Ghost[];
  /** Stations that stand in the ground; others are only meant to. */
  readonly inTheGround: ReadonlySet<string>;
  readonly unguarded: readonly (readonly Point[])[];
  /** Places at which something is wrong. */
  readonly wrongAt: readonly Point[];
  /** A place to bring into view; a new object each time. */
  readonly look: { readonly at: Point } | null;
  readonly onDrawn: (points: readonly Point[]) => void;
}

const TALLEST = 640;
const LOWEST = 320;
/** On a phone it leaves half of the screen to the numbers under it: it stays in sight while they scroll by. */
const NARROW = 480;
const LOWEST_NARROW = 240;
/** Farther across the view does not grow by itself. */
const GREATEST_METRES = 2000;
/** A press of a key or button that moves the view goes so far, as a share of it. */
const ZOOM_STEP = 1.35;
const NO_HANDLES: readonly Point[] = [];

/** The drawing as a picture that can be drawn on: the same shapes as on paper, with handles over them. */
export function Picture({
  editor,
  drawn,
  marks,
  ghosts: proposed,
  inTheGround,
  unguarded,
  wrongAt,
  look,
  onDrawn,
}: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const id = useId();
  const hint = useId();
  const [ref, width] = useWidth<HTMLDivElement>();
  const lowest = width < NARROW ? LOWEST_NARROW : LOWEST;
  const height = Math.round(Math.min(TALLEST, Math.max(lowest, width * 0.75)));
  const { site, unit, pen, brush, selection } = editor;
  const [window, setWindow] = useState<Box>(() => wholeWindow(drawn, pen.corners));
  useGrowing(drawn, pen.corners, setWindow);
  useEffect(() => {
    if (look === null) return;
    setWindow((now) =>
      shifted(now, look.at.x - (now.left + now.right) / 2, look.at.y - (now.top + now.bottom) / 2),
    );
  }, [look]);
  const ghosts = useMemo(
    () => [
      ...proposed,
      ...site.stations
        .filter((station) => !inTheGround.has(station.id))
        .map(({ id, number, at }) => ({ id, label: String(number), at, isChosen: false })),
    ],
    [site, proposed, inTheGround],
  );
  const shown = useMemo(() => withoutGhosts(site, inTheGround), [site, inTheGround]);
  const handles = useMemo(
    () => (brush === null ? handlesOf(site, selection) : NO_HANDLES),
    [site, selection, brush],
  );
  const { drawing, labels } = useSheet({
    site: shown,
    width,
    height,
    window,
    unit,
    marks,
    unguarded,
    handles,
  });
  const { hover, handlers } = usePointer({
    editor,
    drawing,
    drawn,
    onPan: (east, north) => setWindow((now) => shifted(now, east, north)),
    onZoom: (factor, about) => setWindow((now) => zoomed(now, factor, about)),
    onDrawn,
  });
  const { ref: svg, onWheel } = useStillWheel(handlers.onWheel);
  return (
    <div className="draw-picture" ref={ref}>
      <p className="hidden-words" id={hint}>
        {words.pictureHint}
      </p>
      <svg
        ref={svg}
        viewBox={`0 0 ${drawing.width} ${drawing.height}`}
        width={drawing.width}
        height={drawing.height}
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys work on the picture; all of it is in the list as well
        tabIndex={0}
        aria-label={`${words.picture}. ${drawing.description}`}
        aria-describedby={hint}
        className={brush === null ? 'draw-sheet' : 'draw-sheet draw-sheet-pen'}
        {...handlers}
        onWheel={onWheel}
      >
        {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: a group of shapes takes no focus; the picture does */}
        <g aria-hidden="true">
          <SiteShapes drawing={drawing} id={id} />
          <Shapes shapes={labels} id={`${id}-labels`} />
        </g>
        <Overlay editor={editor} drawing={drawing} hover={hover} ghosts={ghosts} wrongAt={wrongAt} />
      </svg>
      <div className="draw-view">
        <button
          type="button"
          className="icon-button"
          onClick={() => setWindow(zoomed(window, 1 / ZOOM_STEP))}
        >
          <ViewSign d="M12 5v14M5 12h14" />
          <span className="hidden-words">{words.zoomIn}</span>
        </button>
        <button type="button" className="icon-button" onClick={() => setWindow(zoomed(window, ZOOM_STEP))}>
          <ViewSign d="M5 12h14" />
          <span className="hidden-words">{words.zoomOut}</span>
        </button>
        <button
          type="button"
          className="icon-button"
          onClick={() => setWindow(wholeWindow(drawn, [...pen.corners, ...ghosts.map(({ at }) => at)]))}
        >
          <ViewSign d="M4 9V4h5M15 4h5v5M20 15v5h-5M9 20H4v-5" />
          <span className="hidden-words">{words.fit}</span>
        </button>
      </div>
    </div>
  );
}

/** Nothing that nobody set is drawn as a station. */
function withoutGhosts(site: Site, inTheGround: ReadonlySet<string>): Site {
  return { ...site, stations: site.stations.filter(({ id }) => inTheGround.has(id)) };
}

function ViewSign({ d }: { readonly d: string }) {
  return (
    <svg
      viewBox="0 0 24 24"
      width="24"
      height="24"
      fill="none"
      stroke="currentColor"
      strokeWidth="2"
      strokeLinecap="round"
      strokeLinejoin="round"
      aria-hidden="true"
    >
      <path d={d} />
    </svg>
  );
}

/**
 * The view grows when an edit leaves something outside it that was inside before (typed, brought in), and stays still for all else: a
 * picture that moves under the hand cannot be drawn on. What lies kilometres away does not shrink all the rest to a dot.
 */
function useGrowing(
  drawn: Site,
  corners: readonly Point[],
  setWindow: (change: (now: Box) => Box) => void,
): void {
  const known = useRef({ drawn, corners });
  useEffect(() => {
    const before = known.current;
    known.current = { drawn, corners };
    if (before.drawn === drawn && before.corners === corners) return;
    setWindow((now) => {
      if (isOutside(now, before.drawn, before.corners) || !isOutside(now, drawn, corners)) return now;
      const whole = wholeWindow(drawn, corners);
      return whole.right - whole.left < GREATEST_METRES ? whole : now;
    });
  }, [drawn, corners, setWindow]);
}

/** React hears the wheel too late to keep the page from scrolling along. */
function useStillWheel(onWheel: (event: React.WheelEvent<SVGSVGElement>) => void) {
  const ref = useRef<SVGSVGElement>(null);
  useEffect(() => {
    const element = ref.current;
    if (element === null) return;
    const still = (event: WheelEvent) => {
      if (document.activeElement === element || event.ctrlKey) event.preventDefault();
    };
    element.addEventListener('wheel', still, { passive: false });
    return () => element.removeEventListener('wheel', still);
  }, []);
  return {
    ref,
    /** Only once the picture was pressed: who scrolls past it scrolls the page. */
    onWheel: (event: React.WheelEvent<SVGSVGElement>) => {
      if (document.activeElement === ref.current || event.ctrlKey) onWheel(event);
    },
  };
}
