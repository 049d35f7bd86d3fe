import type { Steps } from '@sillwatch/trade';
import { type ComponentType, createContext, type ReactNode, useContext, useMemo } from 'react';
import type { SceneKey } from './practice/scenes.ts';
import type { FieldProperty, FieldStore } from './store/port.ts';
import { useWatched } from './store/useWatched.ts';

/** Where the screens stand: on the phone's own store, or on the practice yard's. */
export interface Yard {
  readonly store: FieldStore;
  readonly isPractice: boolean;
  /** Which scene the trainee finds under the cap; undefined = none is told (the real yard tells it itself). */
  readonly sceneOf: (station: string) => SceneKey | undefined;
  /** Practice: stands between the last answer and the steps, and shows them when the trainee has decided. */
  readonly Decide?: ComponentType<YardDecideProps>;
}

export interface YardDecideProps {
  readonly asked: Steps;
  readonly visit: string;
  readonly station: string;
  /** The steps and the record. */
  readonly children: ReactNode;
}

const YardContext = createContext<Yard | null>(null);

export function YardProvider({ yard, children }: { readonly yard: Yard; readonly children: ReactNode }) {
  return <YardContext value={yard}>{children}</YardContext>;
}

export function useYard(): Yard {
  const yard = useContext(YardContext);
  if (yard === null) throw new Error('no YardProvider above this screen');
  return yard;
}

export function useStore(): FieldStore {
  return useYard().store;
}

/** undefined = not on this phone, or still being read. */
export function useFieldProperty(property: string): FieldProperty | undefined {
  const store = useStore();
  return useWatched(useMemo(() => store.property(property), [store, property]));
}
