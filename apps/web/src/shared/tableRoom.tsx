import type { ReactNode } from 'react';

interface Props {
  readonly label: string;
  /** Its few columns fit on a phone. */
  readonly isNarrow?: boolean;
  readonly children: ReactNode;
}

/** A table that may be wider than the screen: it scrolls by itself, by finger and by keys. */
export function TableRoom({ label, isNarrow = false, children }: Props) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keys (axe: scrollable-region-focusable)
    <section className={isNarrow ? 'table-room narrow' : 'table-room'} aria-label={label} tabIndex={0}>
      {children}
    </section>
  );
}
