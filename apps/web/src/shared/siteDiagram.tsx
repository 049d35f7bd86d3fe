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
import { metresToSheet, sheetToMetres } from './siteSheet.ts';

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
  /** Stations that this visit has seen. */
  readonly done?: ReadonlySet<string>;
  /** The station whose page this is. */
  readonly here?: string;
  /** Where a mark leads and how it is spoken; undefined = it leads nowhere. */
  readonly linkOf?: (target: StationTarget) => { readonly href: string; readonly name: string };
  /** Called with local metres where the drawing is tapped. */
  readonly onPlace?: (at: Point) => void;
  /** A place that was tapped, marked by a cross; local metres. */
  readonly placed?: Point;
}

/** A finger's reach round a mark, CSS pixels; half the usual touch target. */
const REACH = 24;

/** The diagram of a property with its marks as links: drawn from the same shapes as on paper. */
export function SiteDiagram(props: Props) {
  const { label, here, linkOf, onPlace, placed } = props;
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
                  className="plan-touch yard-touch"
                  fill="transparent"
                  pointerEvents="all"
                />
              </a>
            </Link>
          );
        })}
      {placed !== undefined && <Cross drawing={drawing} at={placed} />}
    </svg>
  );
}

function Cross({ drawing, at }: { readonly drawing: SiteDrawing; readonly at: Point }) {
  const { x, y } = metresToSheet(drawing, at);
  return <path d={`M${x - 14} ${y}h28M${x} ${y - 14}v28`} className="yard-placed" />;
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
  done,
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
        ...(done === undefined ? {} : { doneStationIds: done }),
      }),
    [site, marks, width, greatestHeight, isToScale, legend, walk, next, done, words],
  );
}

export function useDiagramWords(): DiagramWords {
  return useWords().locale.startsWith('es') ? SPANISH : ENGLISH;
}

/** Up to a finger's width, but never over a neighbour's mark. */
function reachOf(target: StationTarget, stations: readonly StationTarget[]): number {
  const gaps = stations.flatMap((other) =>
    other === target ? [] : [Math.hypot(other.x - target.x, other.y - target.y)],
  );
  return Math.max(target.radius + 3, Math.min(REACH, ...gaps.map((gap) => gap / 2)));
}
