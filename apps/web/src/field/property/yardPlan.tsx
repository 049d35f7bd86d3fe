import type { PropertyState } from '@sillwatch/trade';
import { type MouseEvent, useMemo, useState } from 'react';
import { Link } from 'wouter';
import { markOf, StationMarkShape } from '../../marks/stationMark.tsx';
import { useWidth } from '../../shared/width.ts';
import { useWords } from '../../words/index.ts';
import { type YardPlan as Layout, layOutYard } from './layout.ts';

interface Props {
  readonly state: PropertyState;
  readonly walk?: readonly (readonly [number, number])[];
  readonly done?: ReadonlySet<string>;
  readonly next?: string | undefined;
  /** Where a mark leads; undefined = the marks lead nowhere and only a place is chosen. */
  readonly linkOf?: (station: string) => string;
  /** Called with local metres where the drawing is tapped. */
  readonly onPlace?: (position: readonly [number, number]) => void;
  readonly placed?: readonly [number, number] | null;
}

const GREATEST_HEIGHT = 420;
const NO_WALK: readonly (readonly [number, number])[] = [];

/** The property with its stations: what is done, what comes next, and the way to it. */
export function YardPlan({ state, walk = NO_WALK, done, next, linkOf, onPlace, placed }: Props) {
  const w = useWords();
  const [ref, width] = useWidth<HTMLDivElement>();
  const [isLarge, setLarge] = useState(false);
  const layout = useMemo(
    () =>
      width === 0 ? undefined : layOutYard({ state, walk, width, greatestHeight: GREATEST_HEIGHT, isLarge }),
    [state, walk, width, isLarge],
  );
  const place = (event: MouseEvent<SVGSVGElement>) => {
    if (onPlace === undefined || layout?.toMetres === undefined) return;
    const box = event.currentTarget.getBoundingClientRect();
    const [x, y] = layout.toMetres(event.clientX - box.left, event.clientY - box.top);
    onPlace([Math.round(x * 100) / 100, Math.round(y * 100) / 100]);
  };
  return (
    <figure className="yard-plan">
      <div ref={ref} className="yard-plan-sheet" tabIndex={isLarge ? 0 : undefined}>
        {layout !== undefined && (
          // biome-ignore lint/a11y/useSemanticElements: a drawing whose marks are links is a group, and SVG has no fieldset
          // biome-ignore lint/a11y/useKeyWithClickEvents: the same place can be left to be measured later
          <svg
            viewBox={`0 0 ${layout.plan.width} ${layout.plan.height}`}
            width={layout.plan.width}
            height={layout.plan.height}
            role="group"
            aria-label={w.field.property.diagramLabel}
            onClick={place}
          >
            <Ground layout={layout} />
            {layout.plan.stations.map((at) => {
              const station = state.stations.find((one) => one.station === at.station);
              if (station === undefined) return null;
              const kind = markOf(station);
              const isDone = done?.has(at.station) === true;
              const half = layout.plan.markHalf;
              const shape = (
                <>
                  <circle cx={at.x} cy={at.y} r={half + 8} className="yard-touch" />
                  {next === at.station && <circle cx={at.x} cy={at.y} r={half + 5} className="yard-next" />}
                  <g transform={`translate(${at.x - half} ${at.y - half}) scale(${half / 12})`}>
                    <StationMarkShape kind={kind} />
                  </g>
                  <text
                    x={at.labelX}
                    y={at.labelY}
                    textAnchor="middle"
                    dominantBaseline="central"
                    className={isDone ? 'yard-number yard-number-done' : 'yard-number'}
                  >
                    {isDone ? `✓${at.number}` : at.number}
                  </text>
                </>
              );
              const spoken = [
                w.station.title(at.number),
                w.marks.station[kind],
                ...(isDone ? [w.field.station.seenToday] : []),
              ].join(', ');
              if (linkOf === undefined) return <g key={at.station}>{shape}</g>;
              const href = linkOf(at.station);
              return (
                <Link key={at.station} href={href} asChild>
                  <a href={href} aria-label={spoken}>
                    {shape}
                  </a>
                </Link>
              );
            })}
            {placed !== undefined && placed !== null && <Placed layout={layout} at={placed} />}
          </svg>
        )}
      </div>
      <figcaption className="quiet small">
        {layout?.isToScale === false ? w.field.property.diagramVague : w.field.property.diagramNote}
      </figcaption>
      <button type="button" className="button" onClick={() => setLarge(!isLarge)}>
        {isLarge ? w.field.property.whole : w.field.property.larger}
      </button>
    </figure>
  );
}

function Ground({ layout }: { readonly layout: Layout }) {
  return (
    <g>
      {layout.ground.map(({ kind, points }) => (
        <polygon key={points.join(' ')} points={points.join(' ')} className={`yard-ground yard-${kind}`} />
      ))}
      {layout.houses.map((points) => (
        <polygon
          key={points.join(' ')}
          points={points.join(' ')}
          className={layout.isToScale ? 'yard-house' : 'yard-house yard-house-vague'}
        />
      ))}
      {layout.fences.map((points) => (
        <polyline key={points.join(' ')} points={points.join(' ')} className="yard-fence" />
      ))}
      {layout.walk.length > 1 && <polyline points={layout.walk.join(' ')} className="yard-walk" />}
      {layout.parking !== undefined && (
        <rect
          x={layout.parking[0] - 6}
          y={layout.parking[1] - 4}
          width={12}
          height={8}
          className="yard-truck"
        />
      )}
    </g>
  );
}

function Placed({ layout, at }: { readonly layout: Layout; readonly at: readonly [number, number] }) {
  const { toMetres, plan } = layout;
  if (toMetres === undefined) return null;
  const [east, north] = toMetres(0, 0);
  const x = (at[0] - east) * plan.pixelsPerMetre;
  const y = (north - at[1]) * plan.pixelsPerMetre;
  return <path d={`M${x - 14} ${y}h28M${x} ${y - 14}v28`} className="yard-placed" />;
}
