import { useSyncExternalStore } from 'react';

export type Theme = 'light' | 'dark';

const KEY = 'sillwatch theme';
const listeners = new Set<() => void>();
const dark = matchMedia('(prefers-color-scheme: dark)');

function chosen(): Theme | undefined {
  const kept = localStorage.getItem(KEY);
  return kept === 'light' || kept === 'dark' ? kept : undefined;
}

function current(): Theme {
  return chosen() ?? (dark.matches ? 'dark' : 'light');
}

/** Before the first paint: a choice made here earlier stands over the system's. */
export function applyTheme(): void {
  const theme = chosen();
  if (theme !== undefined) document.documentElement.dataset['theme'] = theme;
}

export function chooseTheme(theme: Theme): void {
  localStorage.setItem(KEY, theme);
  applyTheme();
  for (const listener of listeners) listener();
}

export function useTheme(): Theme {
  return useSyncExternalStore((listener) => {
    listeners.add(listener);
    dark.addEventListener('change', listener);
    return () => {
      listeners.delete(listener);
      dark.removeEventListener('change', listener);
    };
  }, current);
}
