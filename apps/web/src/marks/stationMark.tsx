import {
  type StationMark as MarkKind,
  type MarkPart,
  STATION_MARK_KINDS,
  STATION_MARK_PARTS,
} from '@sillwatch/ring';
import { useWords } from '../words/index.ts';
import { MarkFrame } from './markFrame.tsx';

export { stationMarkOf as markOf } from '@sillwatch/rounds';

/** What a mark can say of a station. Told apart by outline and fill alone; colour only repeats it. */
export const STATION_MARKS = STATION_MARK_KINDS;
export type StationMarkKind = MarkKind;

/** The screen's colour of each mark. */
export const MARK_COLOURS: Readonly<Record<StationMarkKind, string>> = {
  monitoring: 'var(--monitoring)',
  hit: 'var(--hit)',
  feeding: 'var(--feeding)',
  baited: 'var(--baited)',
  clear: 'var(--clear)',
  'carried over': 'var(--feeding)',
  missed: 'var(--missed)',
  removed: 'var(--removed)',
};

interface Props {
  readonly kind: StationMarkKind;
  /** side of the box, CSS pixels at the usual text size */
  readonly size?: number;
  /** True where the words stand beside it. */
  readonly silent?: boolean;
}

export function StationMark({ kind, size = 24, silent = false }: Props) {
  const name = useWords().marks.station[kind];
  return (
    <MarkFrame name={name} colour={MARK_COLOURS[kind]} size={size} silent={silent}>
      <StationMarkShape kind={kind} />
    </MarkFrame>
  );
}

/** The bare shape, for use inside a drawing; it takes `currentColor` from the drawing's group. */
export function StationMarkShape({ kind }: { readonly kind: StationMarkKind }) {
  return (
    <g
      stroke="currentColor"
      strokeWidth="2"
      strokeLinecap="round"
      strokeLinejoin="round"
      color={MARK_COLOURS[kind]}
    >
      {STATION_MARK_PARTS[kind].map((part) => (
        <Part key={part.d} part={part} />
      ))}
    </g>
  );
}

/** The diagram's own shapes, with the screen's paper and ink. */
function Part({ part: { d, paint, width, dash } }: { readonly part: MarkPart }) {
  switch (paint) {
    case 'outlined':
      return <path d={d} fill="var(--sheet)" strokeWidth={width} strokeDasharray={dash?.join(' ')} />;
    case 'ink':
      return <path d={d} fill="currentColor" stroke="none" />;
    case 'ink line':
      return <path d={d} fill="none" strokeWidth={width} strokeDasharray={dash?.join(' ')} />;
    case 'paper line':
      return (
        <path d={d} fill="none" stroke="var(--sheet)" strokeWidth={width} strokeDasharray={dash?.join(' ')} />
      );
  }
}
