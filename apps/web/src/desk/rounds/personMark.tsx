import type { PersonSign } from './personSign.ts';

/** The shape about the origin, large enough for two digits. */
export function PersonMark({ sign, radius }: { readonly sign: PersonSign; readonly radius: number }) {
  const r = radius;
  switch (sign.shape) {
    case 'circle':
      return <circle r={r} />;
    case 'square':
      return <rect x={-r * 0.92} y={-r * 0.92} width={r * 1.84} height={r * 1.84} />;
    case 'diamond':
      return <polygon points={corners(4, r * 1.3, 0)} />;
    case 'triangle':
      // Lower than its middle, so that the number lies where it is wide.
      return <polygon points={corners(3, r * 1.6, -90)} transform={`translate(0 ${r * -0.2})`} />;
    case 'hexagon':
      return <polygon points={corners(6, r * 1.15, 0)} />;
    case 'octagon':
      return <polygon points={corners(8, r * 1.1, 22.5)} />;
  }
}

/** Line and shape of one technician, for the legend. */
export function PersonKey({ sign }: { readonly sign: PersonSign }) {
  return (
    <svg
      width="70"
      height="34"
      viewBox="-35 -17 70 34"
      aria-hidden="true"
      className={`map-key who-${sign.colour}`}
    >
      <line x1="-33" x2="33" y1="0" y2="0" className="map-leg" strokeDasharray={sign.dash} />
      <g className="map-stop-mark">
        <PersonMark sign={sign} radius={9} />
      </g>
    </svg>
  );
}

/** Of a regular polygon; degrees clockwise from east, where its first corner lies. */
function corners(count: number, radius: number, fromDegrees: number): string {
  return Array.from({ length: count }, (_, index) => {
    const turn = ((fromDegrees + (index * 360) / count) * Math.PI) / 180;
    return `${(radius * Math.cos(turn)).toFixed(1)},${(radius * Math.sin(turn)).toFixed(1)}`;
  }).join(' ');
}
