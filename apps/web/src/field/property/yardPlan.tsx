import type { Site } from '@sillwatch/ring';
import { siteOf } from '@sillwatch/rounds';
import type { PropertyState } from '@sillwatch/trade';
import { useMemo, useState } from 'react';
import { markOf } from '../../marks/stationMark.tsx';
import { schematicSite } from '../../shared/schematicSite.ts';
import { SiteDiagram } from '../../shared/siteDiagram.tsx';
import { useWidth } from '../../shared/width.ts';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly state: PropertyState;
  readonly walk?: readonly (readonly [number, number])[];
  readonly done?: ReadonlySet<string>;
  readonly next?: string | undefined;
  /** Where a mark leads; undefined = the marks lead nowhere and only a place is chosen. */
  readonly linkOf?: (station: string) => string;
  /** Called with local metres where the drawing is tapped. */
  readonly onPlace?: (position: readonly [number, number]) => void;
  readonly placed?: readonly [number, number] | null;
}

const GREATEST_HEIGHT = 480;
/** The larger drawing: marks and ground twice as wide, scrolled. */
const LARGER = 2;

/** The property with its stations: what is done, what comes next, the way to it, and where nobody may dig. */
export function YardPlan({ state, walk, done, next, linkOf, onPlace, placed }: Props) {
  const w = useWords();
  const [ref, width] = useWidth<HTMLDivElement>();
  const [isLarge, setLarge] = useState(false);
  const drawn = useMemo(() => drawingOf(state), [state]);
  const marks = useMemo(
    () => new Map(state.stations.map((station) => [station.station, markOf(station)])),
    [state],
  );
  const way = useMemo(() => walk?.map(([x, y]) => ({ x, y })), [walk]);
  const factor = isLarge ? LARGER : 1;
  return (
    <figure className="yard-plan">
      <div ref={ref} className="yard-plan-sheet" tabIndex={isLarge ? 0 : undefined}>
        {width > 0 && (
          <SiteDiagram
            site={drawn.site}
            marks={marks}
            width={width * factor}
            greatestHeight={GREATEST_HEIGHT * factor}
            label={w.field.property.diagramLabel}
            isToScale={drawn.isToScale}
            legend={drawn.isToScale && state.site !== null}
            {...(way === undefined || !drawn.isToScale ? {} : { walk: way })}
            {...(next === undefined ? {} : { next })}
            {...(done === undefined ? {} : { done })}
            {...(onPlace === undefined || !drawn.isToScale
              ? {}
              : {
                  onPlace: ({ x, y }) => onPlace([Math.round(x * 100) / 100, Math.round(y * 100) / 100]),
                })}
            {...(placed === undefined || placed === null || !drawn.isToScale
              ? {}
              : { placed: { x: placed[0], y: placed[1] } })}
            {...(linkOf === undefined
              ? {}
              : {
                  linkOf: ({ id, number, mark }) => ({
                    href: linkOf(id),
                    name: [
                      w.station.title(number),
                      w.marks.station[mark],
                      ...(done?.has(id) === true ? [w.field.station.seenToday] : []),
                    ].join(', '),
                  }),
                })}
          />
        )}
      </div>
      <figcaption className="quiet small">
        {drawn.isToScale ? w.field.property.diagramNote : w.field.property.diagramVague}
      </figcaption>
      <button type="button" className="button" onClick={() => setLarge(!isLarge)}>
        {isLarge ? w.field.property.whole : w.field.property.larger}
      </button>
    </figure>
  );
}

function drawingOf(state: PropertyState): { readonly site: Site; readonly isToScale: boolean } {
  const site = siteOf(state);
  if (site.stations.length + site.structures.length > 0) return { site, isToScale: true };
  const standing = state.stations.filter(({ inService }) => inService);
  return { site: schematicSite(state.structures, standing), isToScale: false };
}
