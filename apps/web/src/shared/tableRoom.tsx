import type { ReactNode } from 'react';

/** A table that may be wider than the screen: it scrolls by itself, by finger and by keys. */
export function TableRoom({ label, children }: { readonly label: string; readonly children: ReactNode }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keys (axe: scrollable-region-focusable)
    <section className="table-room" aria-label={label} tabIndex={0}>
      {children}
    </section>
  );
}
