import type { StationState } from '@sillwatch/trade';
import type { ReactNode } from 'react';
import { useWords } from '../words/index.ts';

/** What a mark can say of a station. Told apart by outline and fill alone; colour only repeats it. */
export const STATION_MARKS = [
  'monitoring',
  'hit',
  'feeding',
  'baited',
  'clear',
  'carried over',
  'missed',
  'removed',
] as const;
export type StationMarkKind = (typeof STATION_MARKS)[number];

/** The one mark that says most about a station: gone and unseen come before what it was last known to be. */
export function markOf(state: StationState): StationMarkKind {
  if (!state.inService) return 'removed';
  if (state.missesInARow > 0) return 'missed';
  if (state.phase !== 'monitoring' && state.clearedOn === null) return state.phase;
  return state.clearedOn === null ? 'monitoring' : 'clear';
}

/**
 * Shapes in a box of 24. Round = nothing asks for care; four-cornered = live termites have been seen (barred: leave it);
 * broken outline = we do not know; no outline = it is not there.
 */
const SHAPES: Readonly<Record<StationMarkKind, ReactNode>> = {
  monitoring: <circle cx="12" cy="12" r="7.5" fill="var(--sheet)" />,
  hit: (
    <>
      <path d="M12 2.5 21.5 12 12 21.5 2.5 12Z" fill="var(--sheet)" />
      <circle cx="12" cy="12" r="2.6" fill="currentColor" stroke="none" />
    </>
  ),
  feeding: (
    <>
      <path d="M12 1.5 22.5 12 12 22.5 1.5 12Z" fill="currentColor" stroke="none" />
      <path d="M7.5 12h9" fill="none" stroke="var(--sheet)" strokeWidth="3" />
    </>
  ),
  baited: (
    <>
      <circle cx="12" cy="12" r="7.5" fill="var(--sheet)" />
      <path d="M4.5 12a7.5 7.5 0 0 0 15 0Z" fill="currentColor" stroke="none" />
    </>
  ),
  clear: (
    <>
      <circle cx="12" cy="12" r="9" fill="currentColor" stroke="none" />
      <path d="m7.6 12.4 3.1 3.1 5.7-6.6" fill="none" stroke="var(--sheet)" strokeWidth="2.4" />
    </>
  ),
  'carried over': (
    <>
      <path d="M12 12.5v8.5" fill="none" />
      <path d="M3 15.5a9 9 0 0 1 17.3-1.2" fill="none" />
      <path d="m21.5 8.5-1.2 6-5.8-1.8" fill="none" />
    </>
  ),
  missed: <circle cx="12" cy="12" r="7.8" fill="var(--sheet)" strokeDasharray="3.4 2.7" strokeWidth="2.4" />,
  removed: <path d="M5.5 5.5l13 13M18.5 5.5l-13 13" fill="none" />,
};

const COLOURS: Readonly<Record<StationMarkKind, string>> = {
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
    <svg
      viewBox="0 0 24 24"
      style={{ inlineSize: `${size / 17}rem`, blockSize: `${size / 17}rem`, color: COLOURS[kind] }}
      role="img"
      aria-label={name}
      aria-hidden={silent}
    >
      <StationMarkShape kind={kind} />
    </svg>
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
      color={COLOURS[kind]}
    >
      {SHAPES[kind]}
    </g>
  );
}
