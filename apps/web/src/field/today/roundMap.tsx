import { Link } from 'wouter';
import { useWidth } from '../../shared/width.ts';
import { useWords } from '../../words/index.ts';
import { project, type Stop } from './places.ts';

const HEIGHT = 360;
const MARGIN = 34;

/** Where the places of the day lie to each other, drawn from their positions: works without a network or a map service. */
export function RoundMap({ stops }: { readonly stops: readonly Stop[] }) {
  const w = useWords();
  const [ref, width] = useWidth<HTMLDivElement>();
  const placed = stops.flatMap(({ property, row }, index) =>
    row?.position == null ? [] : [{ property, row, position: row.position, number: index + 1 }],
  );
  // Without a round the places have no order to drive in.
  const isPlanned = stops.every(({ planned }) => planned !== undefined);
  const points =
    width === 0
      ? []
      : project(
          placed.map(({ position }) => position),
          width,
          HEIGHT,
          MARGIN,
        );
  return (
    <figure className="yard-plan">
      <div ref={ref} className="yard-plan-sheet">
        {placed.length > 0 && width > 0 && (
          // biome-ignore lint/a11y/useSemanticElements: a drawing whose marks are links is a group, and SVG has no fieldset
          <svg
            viewBox={`0 0 ${width} ${HEIGHT}`}
            width={width}
            height={HEIGHT}
            role="group"
            aria-label={w.field.today.mapLabel}
          >
            {isPlanned && (
              <polyline points={points.map(({ x, y }) => `${x},${y}`).join(' ')} className="yard-walk" />
            )}
            {placed.map(({ property, row, number }, index) => {
              const at = points[index];
              if (at === undefined) return null;
              const href = `/p/${property}`;
              return (
                <Link key={property} href={href} asChild>
                  <a href={href} aria-label={`${number}, ${row.name}`}>
                    <circle cx={at.x} cy={at.y} r={25} className="yard-touch" />
                    <circle cx={at.x} cy={at.y} r={15} className="map-stop" />
                    <text
                      x={at.x}
                      y={at.y}
                      textAnchor="middle"
                      dominantBaseline="central"
                      className="map-number"
                    >
                      {number}
                    </text>
                  </a>
                </Link>
              );
            })}
          </svg>
        )}
      </div>
      <figcaption className="quiet small">
        {placed.length === 0
          ? w.field.today.mapNone
          : isPlanned
            ? w.field.today.mapNote
            : w.field.today.mapLoose}
      </figcaption>
    </figure>
  );
}
