import {
  type Box,
  layOutSite,
  type Point,
  type Shape,
  type Site,
  type SiteDrawing,
  type SiteView,
  type StationMark,
} from '@sillwatch/ring';
import { useEffect, useMemo, useState } from 'react';
import { useDiagramWords } from '../../shared/siteDiagram.tsx';
import { SCREEN_PALETTE } from '../../shared/siteDrawing.tsx';

interface Options {
  /** As it is shown, with the edit under the hand. */
  readonly site: Site;
  readonly width: number;
  readonly height: number;
  readonly window: Box;
  readonly unit: 'ft' | 'm';
  readonly marks: ReadonlyMap<string, StationMark>;
  readonly unguarded: readonly (readonly Point[])[];
  /** Handles that labels keep off; the same object as long as nothing else is selected. */
  readonly handles: readonly Point[];
}

/** Labels are looked for when nothing has moved for so long, milliseconds. */
const STILL_MS = 120;

/**
 * The drawing for the picture. All but its labels is laid out anew with every stroke (under a millisecond); places for labels are found by
 * search (a tenth of a second for 70 stations), so they follow once the hand rests. Until then the last ones stand, unless the view moved.
 */
export function useSheet(options: Options): {
  readonly drawing: SiteDrawing;
  readonly labels: readonly Shape[];
} {
  const words = useDiagramWords();
  const { site, width, height, window, unit, marks, unguarded, handles } = options;
  const view = useMemo(
    (): SiteView => ({
      medium: { kind: 'screen', width: Math.max(width, 200), height, window },
      contrast: 'usual',
      units: unit,
      marks,
      heading: false,
      legend: false,
      wallLengths: true,
      palette: SCREEN_PALETTE,
      words,
      ...(unguarded.length === 0 ? {} : { unguarded }),
    }),
    [width, height, window, unit, marks, words, unguarded],
  );
  const drawing = useMemo(() => layOutSite(site, { ...view, labels: false }), [site, view]);
  const [labelled, setLabelled] = useState(() => ({ view, labels: labelsOf(site, view, handles) }));
  useEffect(() => {
    const timer = setTimeout(() => setLabelled({ view, labels: labelsOf(site, view, handles) }), STILL_MS);
    return () => clearTimeout(timer);
  }, [site, view, handles]);
  return { drawing, labels: labelled.view === view ? labelled.labels : NONE };
}

const NONE: readonly Shape[] = [];

function labelsOf(site: Site, view: SiteView, handles: readonly Point[]): readonly Shape[] {
  return layOutSite(site, handles.length === 0 ? view : { ...view, handles }).shapes.flatMap((shape) =>
    shape.kind === 'group'
      ? shape.shapes.filter((inner) => inner.kind === 'group' && inner.name === 'labels')
      : [],
  );
}
