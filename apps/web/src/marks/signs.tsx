import type { ReactNode } from 'react';

/** Small line drawings for navigation and buttons. Always beside words, so never read aloud. */
const SIGNS = {
  due: <path d="M4 6h16v14H4zM4 10.5h16M8.5 3v4M15.5 3v4" />,
  properties: <path d="M3 12 12 4l9 8M5.5 10v10h13V10M10 20v-6h4v6" />,
  plan: <path d="M5 6h3M5 12h3M5 18h3M11 6h8M11 12h5M11 18h7" />,
  book: <path d="M4 20V4M4 20h17M8 16v-4M12 16V8M16 16v-6M20 16v-9" />,
  load: <path d="M3 7h11v9H3zM14 10h4l3 3v3h-7M7 16v2.5M18 16v2.5" />,
  office: <path d="M4 8h16v12H4zM9 8V5h6v3M4 13h16" />,
  key: <path d="M4 7h9M4 12h16M4 17h6M17 4.5v5M14.5 7h5" />,
  onward: <path d="m9 5 7 7-7 7" />,
  back: <path d="m15 5-7 7 7 7" />,
  search: <path d="M10.5 4a6.5 6.5 0 1 0 0 13 6.5 6.5 0 0 0 0-13ZM15.5 15.5 21 21" />,
  sun: (
    <path d="M12 7.5a4.5 4.5 0 1 0 0 9 4.5 4.5 0 0 0 0-9ZM12 2v2.5M12 19.5V22M2 12h2.5M19.5 12H22M5 5l1.8 1.8M17.2 17.2 19 19M5 19l1.8-1.8M17.2 6.8 19 5" />
  ),
  moon: <path d="M19.5 14.5A8 8 0 0 1 9.5 4.5a8 8 0 1 0 10 10Z" />,
  leave: <path d="M10 4H5v16h5M15 8l4 4-4 4M19 12h-9" />,
  caution: <path d="M12 4 2.5 20h19ZM12 10v4.5M12 17.3v.2" />,
  paper: <path d="M6 3h8.5L19 7.5V21H6zM14 3v5h5M9 13h7M9 17h7" />,
  more: <path d="M5 12h.01M12 12h.01M19 12h.01" strokeWidth="4" />,
  hold: <path d="M8 5v14M16 5v14" />,
} as const satisfies Record<string, ReactNode>;

export type SignName = keyof typeof SIGNS;

export function Sign({ name, size = 22 }: { readonly name: SignName; readonly size?: number }) {
  return (
    <svg
      viewBox="0 0 24 24"
      aria-hidden="true"
      style={{ inlineSize: `${size / 17}rem`, blockSize: `${size / 17}rem` }}
      fill="none"
      stroke="currentColor"
      strokeWidth="2"
      strokeLinecap="round"
      strokeLinejoin="round"
    >
      {SIGNS[name]}
    </svg>
  );
}

/** The tool's own sign: a sill plate on its posts, and the station under it. */
export function Brand({ size = 34 }: { readonly size?: number }) {
  return (
    <svg
      viewBox="0 0 32 32"
      aria-hidden="true"
      style={{ inlineSize: `${size / 17}rem`, blockSize: `${size / 17}rem` }}
    >
      <rect width="32" height="32" rx="7" fill="var(--accent)" />
      <g stroke="var(--on-accent)" fill="none" strokeWidth="2.4">
        <path d="M6 10h20v5H6z" fill="var(--on-accent)" stroke="none" />
        <path d="M9 15v4M23 15v4" />
        <circle cx="16" cy="22" r="3.6" />
      </g>
    </svg>
  );
}
