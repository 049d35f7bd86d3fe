import type { StationState, StructureState } from '@sillwatch/trade';
import { METRES_PER_FOOT } from '@sillwatch/trade';
import { useState } from 'react';
import { Link } from 'wouter';
import { markOf, StationMarkShape } from '../../marks/stationMark.tsx';
import { useWidth } from '../../shared/width.ts';
import { useWords } from '../../words/index.ts';
import {
  crowdingOf,
  layOutPlan,
  type Plan,
  type PlanInput,
  type PlanStation,
  schematicRing,
} from './planLayout.ts';

interface Props {
  readonly property: string;
  readonly structures: readonly StructureState[];
  readonly stations: readonly StationState[];
  /** the station whose page this is */
  readonly here?: string;
}

const GREATEST_HEIGHT = 520;
/** room for the scale bar under the lowest number, CSS pixels */
const SCALE_BAR_HEIGHT = 16;

/** The ring as a drawing: to scale where positions are known, else stations in their order round a plain house. */
export function PropertyPlan({ property, structures, stations, here }: Props) {
  const w = useWords();
  const [ref, width] = useWidth<HTMLDivElement>();
  const [isLarge, setLarge] = useState(false);
  const standing = stations.filter(({ inService }) => inService);
  const measured = standing.filter(({ position }) => position !== null);
  const toScale = measured.length > 0;
  const input = toScale ? scaledInput(structures, measured, width) : ringInput(standing, width);
  const isReady = width > 0 && standing.length > 0;
  const { shrink, zoom } = isReady ? crowdingOf(input) : { shrink: 1, zoom: 1 };
  const factor = isLarge ? zoom : 1;
  const missing = standing.length - measured.length;
  return (
    <figure className="plan">
      <div ref={ref} className="plan-sheet">
        {isReady && (
          <PlanDrawing
            plan={layOutPlan({
              ...input,
              shrink,
              width: input.width * factor,
              greatestHeight: input.greatestHeight * factor,
            })}
            stations={standing}
            property={property}
            here={here}
            toScale={toScale}
          />
        )}
      </div>
      <figcaption className="quiet small">
        {toScale
          ? missing > 0
            ? w.property.planMixed(missing)
            : w.property.planToScale
          : w.property.planSchematic}
      </figcaption>
      {zoom > 1 && (
        <button type="button" className="button" onClick={() => setLarge(!isLarge)}>
          {isLarge ? w.property.planSmaller : w.property.planLarger}
        </button>
      )}
    </figure>
  );
}

function scaledInput(
  structures: readonly StructureState[],
  stations: readonly StationState[],
  width: number,
): PlanInput {
  return {
    outlines: structures.flatMap(({ outline }) => (outline === null ? [] : [outline])),
    stations: stations.flatMap((station): readonly PlanStation[] => {
      if (station.position === null) return [];
      const outline = structures.find(({ structure }) => structure === station.structure)?.outline;
      const round =
        outline ??
        stations.flatMap(({ structure, position }) =>
          structure === station.structure && position !== null ? [position] : [],
        );
      return [
        {
          station: station.station,
          number: station.number,
          position: station.position,
          middle: middleOf(round),
        },
      ];
    }),
    width,
    greatestHeight: GREATEST_HEIGHT,
  };
}

/** One schematic ring; stations of several structures follow each other in it. */
function ringInput(stations: readonly StationState[], width: number): PlanInput {
  const ring = schematicRing(stations.map(({ number }) => number));
  const middle = middleOf(ring.outline);
  return {
    outlines: [ring.outline],
    stations: stations.flatMap((station, index) => {
      const position = ring.positions[index];
      return position === undefined
        ? []
        : [{ station: station.station, number: station.number, position, middle }];
    }),
    width,
    greatestHeight: GREATEST_HEIGHT,
  };
}

function middleOf(points: readonly (readonly [number, number])[]): readonly [number, number] {
  const count = Math.max(1, points.length);
  return [points.reduce((sum, [x]) => sum + x, 0) / count, points.reduce((sum, [, y]) => sum + y, 0) / count];
}

interface DrawingProps {
  readonly plan: Plan;
  readonly stations: readonly StationState[];
  readonly property: string;
  readonly here: string | undefined;
  readonly toScale: boolean;
}

function PlanDrawing({ plan, stations, property, here, toScale }: DrawingProps) {
  const w = useWords();
  const height = plan.height + (toScale ? SCALE_BAR_HEIGHT : 0);
  const statesById = new Map(stations.map((state) => [state.station, state]));
  return (
    // biome-ignore lint/a11y/useSemanticElements: a drawing whose marks are links is a group, and SVG has no fieldset
    <svg
      viewBox={`0 0 ${plan.width} ${height}`}
      width={plan.width}
      height={height}
      role="group"
      aria-label={w.property.plan}
    >
      {plan.outlines.map((outline) => (
        <polygon
          key={outline.join(' ')}
          points={outline.join(' ')}
          className={toScale ? 'plan-outline' : 'plan-outline plan-outline-vague'}
        />
      ))}
      {plan.stations.map(({ station, number, x, y, labelX, labelY }) => {
        const state = statesById.get(station);
        if (state === undefined) return null;
        const kind = markOf(state);
        const carried = state.carriedOverOn !== null;
        const spoken = [
          w.station.title(number),
          w.marks.station[kind],
          ...(carried ? [w.marks.station['carried over']] : []),
        ].join(', ');
        return (
          <Link key={station} href={`/properties/${property}/stations/${station}`} asChild>
            <a
              href={`/properties/${property}/stations/${station}`}
              className="plan-station"
              aria-label={spoken}
              {...(here === station ? { 'aria-current': 'true' as const } : {})}
            >
              <circle cx={x} cy={y} r={plan.markHalf + (here === station ? 7 : 5)} className="plan-touch" />
              <g
                transform={`translate(${x - plan.markHalf} ${y - plan.markHalf}) scale(${plan.markHalf / 12})`}
              >
                <StationMarkShape kind={kind} />
              </g>
              <text x={labelX} y={labelY} textAnchor="middle" dominantBaseline="central">
                {number}
              </text>
            </a>
          </Link>
        );
      })}
      {toScale && <ScaleBar plan={plan} />}
    </svg>
  );
}

const LENGTHS_FEET = [5, 10, 20, 50, 100, 200] as const;

function ScaleBar({ plan }: { readonly plan: Plan }) {
  const w = useWords();
  const pixelsPerFoot = plan.pixelsPerMetre * METRES_PER_FOOT;
  const feet = LENGTHS_FEET.findLast((length) => length * pixelsPerFoot <= 120) ?? LENGTHS_FEET[0];
  const y = plan.height + SCALE_BAR_HEIGHT - 14;
  return (
    <g className="plan-scale">
      <path d={`M12 ${y - 4}v8M12 ${y}h${feet * pixelsPerFoot}M${12 + feet * pixelsPerFoot} ${y - 4}v8`} />
      <text x={18 + feet * pixelsPerFoot} y={y} dominantBaseline="central">
        {w.property.feet(feet)}
      </text>
    </g>
  );
}
