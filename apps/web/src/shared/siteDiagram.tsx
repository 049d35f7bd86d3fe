import {
  type DiagramWords,
  ENGLISH,
  layOutSite,
  type Point,
  type Site,
  type SiteDrawing,
  SPANISH,
  type StationMark,
  type StationTarget,
} from '@sillwatch/ring';
import { type MouseEvent, useId, useMemo } from 'react';
import { Link } from 'wouter';
import { useWords } from '../words/index.ts';
import { SCREEN_PALETTE, SiteShapes } from './siteDrawing.tsx';

interface Props {
  readonly site: Site;
  readonly marks: ReadonlyMap<string, StationMark>;
  /** CSS pixels that it may fill */
  readonly width: number;
  readonly greatestHeight: number;
  /** Its name for those who cannot see it. */
  readonly label: string;
  /** False where nothing was measured and the places are made up. */
  readonly isToScale: boolean;
  readonly legend?: boolean;
  /** The way to walk, local metres. */
  readonly walk?: readonly Point[];
  /** The station to go to next. */
  readonly next?: string;
  /** The station whose page this is. */
  readonly here?: string;
  /** Where a mark leads and how it is spoken; undefined = it leads nowhere. */
  readonly linkOf?: (target: StationTarget) => { readonly href: string; readonly name: string };
  /** Called with local metres where the drawing is tapped. */
  readonly onPlace?: (at: Point) => void;
}

/** A finger's reach round a mark, CSS pixels; half the usual touch target. */
const REACH = 24;

/** The diagram of a property with its marks as links: drawn from the same shapes as on paper. */
export function SiteDiagram(props: Props) {
  const { label, here, linkOf, onPlace } = props;
  const id = useId();
  const drawing = useDrawing(props);
  const { width, height, stations } = drawing;
  const place = (event: MouseEvent<SVGSVGElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    onPlace?.(sheetToMetres(drawing, event.clientX - box.left, event.clientY - box.top));
  };
  return (
    // biome-ignore lint/a11y/useSemanticElements: a drawing whose marks are links is a group, and SVG has no fieldset
    <svg
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
      role="group"
      aria-label={label}
      {...(onPlace === undefined ? {} : { onClick: place })}
    >
      {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: a group of shapes takes no focus; the links over it do */}
      <g aria-hidden="true">
        <SiteShapes drawing={drawing} id={id} />
      </g>
      {linkOf !== undefined &&
        stations.map((target) => {
          const { href, name } = linkOf(target);
          return (
            <Link key={target.id} href={href} asChild>
              <a
                href={href}
                className="plan-station"
                aria-label={name}
                {...(here === target.id ? { 'aria-current': 'true' as const } : {})}
              >
                <circle
                  cx={target.x}
                  cy={target.y}
                  r={reachOf(target, stations)}
                  className="plan-touch"
                  pointerEvents="all"
                />
              </a>
            </Link>
          );
        })}
    </svg>
  );
}

export function useDrawing({
  site,
  marks,
  width,
  greatestHeight,
  isToScale,
  legend,
  walk,
  next,
}: Omit<Props, 'label'>): SiteDrawing {
  const words = useDiagramWords();
  return useMemo(
    () =>
      layOutSite(site, {
        medium: { kind: 'screen', width, height: greatestHeight, isSnug: true },
        contrast: 'usual',
        units: 'ft',
        marks,
        heading: false,
        legend: legend === true,
        scaleBars: isToScale,
        palette: SCREEN_PALETTE,
        words,
        ...(walk === undefined || walk.length < 2 ? {} : { walk }),
        ...(next === undefined ? {} : { nextStationId: next }),
      }),
    [site, marks, width, greatestHeight, isToScale, legend, walk, next, words],
  );
}

function useDiagramWords(): DiagramWords {
  return useWords().locale.startsWith('es') ? SPANISH : ENGLISH;
}

/** Up to a finger's width, but never over a neighbour's mark. */
function reachOf(target: StationTarget, stations: readonly StationTarget[]): number {
  const gaps = stations.flatMap((other) =>
    other === target ? [] : [Math.hypot(other.x - target.x, other.y - target.y)],
  );
  return Math.max(target.radius + 3, Math.min(REACH, ...gaps.map((gap) => gap / 2)));
}

/** Local metres of a point on the drawing: the way back through its matrix. */
export function sheetToMetres({ metresToSheet }: SiteDrawing, x: number, y: number): Point {
  const { a, b, c, d, e, f } = metresToSheet;
  const determinant = a * d - b * c;
  return {
    x: (d * (x - e) - c * (y - f)) / determinant,
    y: (a * (y - f) - b * (x - e)) / determinant,
  };
}

/** Marks nearer than this cannot be pressed apart, CSS pixels. */
const CLOSEST = 30;

/**
 * How many times larger than its sheet the drawing must be so that neighbouring marks can be pressed apart, 1 to 3.
 * Stations measured at one place cannot be drawn apart and do not count.
 */
export function zoomOf({ stations, unitsPerMetre }: SiteDrawing): number {
  const nearest = stations
    .map(({ x, y }) =>
      Math.min(
        ...stations
          .map((other) => Math.hypot(other.x - x, other.y - y))
          .filter((gap) => gap > 0.2 * unitsPerMetre),
      ),
    )
    .filter((gap) => Number.isFinite(gap))
    .sort((a, b) => a - b);
  const tight = nearest[Math.floor(nearest.length / 10)] ?? CLOSEST;
  const zoom = Math.min(3, CLOSEST / tight);
  return zoom < 1.15 ? 1 : zoom;
}
