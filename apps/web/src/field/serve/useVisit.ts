import { useEffect, useMemo, useState } from 'react';
import type { FieldProperty, FieldStore } from '../store/port.ts';
import { useStore } from '../yard.tsx';
import { taskOfVisit, type VisitView, viewVisit } from './visit.ts';
import { type Way, wayOf } from './walk.ts';

export interface VisitHere extends VisitView {
  readonly visit: string;
  readonly way: Way;
  readonly task: ReturnType<typeof taskOfVisit>;
}

/** As last read, so that the next station is drawn without a way to the disk; each screen reads it anew (a day may have ended). */
const known = new WeakMap<FieldStore, Map<string, string>>();

/** Today's visit at this property: what is owed, what is done, and the way round; undefined while its id is being read. */
export function useVisit(property: FieldProperty | undefined, id: string): VisitHere | undefined {
  const store = useStore();
  const [visit, setVisit] = useState(() => known.get(store)?.get(id));
  useEffect(() => {
    let isCurrent = true;
    void store.visitAt(id).then((found) => {
      const visits = known.get(store) ?? new Map<string, string>();
      known.set(store, visits.set(id, found));
      if (isCurrent) setVisit(found);
    });
    return () => {
      isCurrent = false;
    };
  }, [store, id]);
  return useMemo(() => {
    if (property === undefined || visit === undefined) return undefined;
    const view = viewVisit(property, visit);
    const own = [...view.seen.values()].map(({ body }) => body.task);
    return {
      ...view,
      visit,
      way: wayOf(property.state, view.owed),
      // A service done today is no longer due, and today is its visit all the same.
      task: own.includes('yearly service') ? 'yearly service' : taskOfVisit(property.due, property.today),
    };
  }, [property, visit]);
}
