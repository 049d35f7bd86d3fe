import type { ReactNode } from 'react';

interface Props {
  /** read aloud in place of the mark */
  readonly name: string;
  readonly colour: string;
  /** side of the box, CSS pixels at the usual text size */
  readonly size: number;
  /** True where the words stand beside it. */
  readonly silent: boolean;
  readonly children: ReactNode;
}

/** The box of 24 that every mark is drawn in; it grows with the text. */
export function MarkFrame({ name, colour, size, silent, children }: Props) {
  return (
    <svg
      viewBox="0 0 24 24"
      style={{ inlineSize: `${size / 17}rem`, blockSize: `${size / 17}rem`, color: colour }}
      role="img"
      aria-label={name}
      aria-hidden={silent}
    >
      {children}
    </svg>
  );
}
