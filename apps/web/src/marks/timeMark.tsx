import type { Timeliness } from '@sillwatch/trade';
import type { ReactNode } from 'react';
import { useWords } from '../words/index.ts';
import { MarkFrame } from './markFrame.tsx';

/**
 * The due window as a box and today as a dot: before it, in it, past the middle, out of it.
 * The same picture as the window bar, small enough for a line of text.
 */
const SHAPES: Readonly<Record<Timeliness, ReactNode>> = {
  'not yet': (
    <>
      <rect x="10" y="6" width="12" height="12" rx="1.5" fill="none" />
      <circle cx="4" cy="12" r="2.6" fill="currentColor" stroke="none" />
    </>
  ),
  open: (
    <>
      <rect x="3" y="6" width="18" height="12" rx="1.5" fill="none" />
      <circle cx="8" cy="12" r="2.6" fill="currentColor" stroke="none" />
    </>
  ),
  'past target': (
    <>
      <rect x="3" y="6" width="18" height="12" rx="1.5" fill="none" />
      <path
        d="M12 6h7.5a1.5 1.5 0 0 1 1.5 1.5v9a1.5 1.5 0 0 1-1.5 1.5H12Z"
        fill="currentColor"
        stroke="none"
      />
    </>
  ),
  late: (
    <>
      <rect x="2" y="6" width="12" height="12" rx="1.5" fill="currentColor" />
      <circle cx="20" cy="12" r="3" fill="currentColor" stroke="none" />
    </>
  ),
};

const COLOURS: Readonly<Record<Timeliness, string>> = {
  'not yet': 'var(--coming)',
  open: 'var(--open)',
  'past target': 'var(--open)',
  late: 'var(--late)',
};

interface Props {
  readonly kind: Timeliness;
  readonly size?: number;
  readonly silent?: boolean;
}

export function TimeMark({ kind, size = 22, silent = false }: Props) {
  const name = useWords().marks.time[kind];
  return (
    <MarkFrame name={name} colour={COLOURS[kind]} size={size} silent={silent}>
      <g stroke="currentColor" strokeWidth="2">
        {SHAPES[kind]}
      </g>
    </MarkFrame>
  );
}
