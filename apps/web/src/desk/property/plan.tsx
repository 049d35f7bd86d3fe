import { siteOf } from '@sillwatch/rounds';
import type { SiteBody, StationState, StructureState } from '@sillwatch/trade';
import { useMemo, useState } from 'react';
import { markOf } from '../../marks/stationMark.tsx';
import { schematicSite } from '../../shared/schematicSite.ts';
import { SiteDiagram, useDrawing } from '../../shared/siteDiagram.tsx';
import { zoomOf } from '../../shared/siteSheet.ts';
import { useWidth } from '../../shared/width.ts';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly property: string;
  readonly structures: readonly StructureState[];
  readonly site: SiteBody | null;
  readonly stations: readonly StationState[];
  /** the station whose page this is */
  readonly here?: string;
}

const GREATEST_HEIGHT = 560;

/** The diagram of the property: to scale where positions are known, else stations in their order round a plain house. */
export function PropertyPlan({ property, structures, site, stations, here }: Props) {
  const w = useWords();
  const [ref, width] = useWidth<HTMLElement>();
  const standing = stations.filter(({ inService }) => inService);
  const measured = standing.filter(({ position }) => position !== null);
  const isDrawn = structures.some(({ outline }) => outline !== null);
  // A house that is drawn shows before its first station is set.
  const isToScale = measured.length > 0 || (standing.length === 0 && isDrawn);
  const missing = standing.length - measured.length;
  return (
    <figure className="plan" ref={ref}>
      {width > 0 && (standing.length > 0 || isDrawn) && (
        <Drawing
          property={property}
          structures={structures}
          site={site}
          stations={standing}
          isToScale={isToScale}
          width={width}
          here={here}
        />
      )}
      <figcaption className="quiet small">
        {isToScale
          ? missing > 0
            ? w.property.planMixed(missing)
            : w.property.planToScale
          : w.property.planSchematic}
      </figcaption>
    </figure>
  );
}

interface DrawingProps extends Omit<Props, 'here'> {
  readonly isToScale: boolean;
  readonly width: number;
  readonly here: string | undefined;
}

function Drawing({ property, structures, site, stations, isToScale, width, here }: DrawingProps) {
  const w = useWords();
  const [isLarge, setLarge] = useState(false);
  const drawn = useMemo(
    () =>
      isToScale
        ? siteOf({ ...NOTHING, property, structures, site, stations })
        : schematicSite(structures, stations),
    [property, structures, site, stations, isToScale],
  );
  const marks = useMemo(() => new Map(stations.map((state) => [state.station, markOf(state)])), [stations]);
  const statesById = new Map(stations.map((state) => [state.station, state]));
  const legend = isToScale && site !== null;
  const base = { site: drawn, marks, isToScale, legend };
  const zoom = zoomOf(useDrawing({ ...base, width, greatestHeight: GREATEST_HEIGHT }));
  const factor = isLarge ? zoom : 1;
  return (
    <>
      <div className="plan-sheet">
        <SiteDiagram
          {...base}
          width={Math.floor(width * factor)}
          greatestHeight={GREATEST_HEIGHT * factor}
          label={w.property.plan}
          {...(here === undefined ? {} : { here })}
          linkOf={({ id, number, mark }) => ({
            href: `/properties/${property}/stations/${id}`,
            name: [
              w.station.title(number),
              w.marks.station[mark],
              ...(statesById.get(id)?.carriedOverOn != null ? [w.marks.station['carried over']] : []),
            ].join(', '),
          })}
        />
      </div>
      {zoom > 1 && (
        <button type="button" className="button" onClick={() => setLarge(!isLarge)}>
          {isLarge ? w.property.planSmaller : w.property.planLarger}
        </button>
      )}
    </>
  );
}

/** What `siteOf` asks of a property beyond what the page has. */
const NOTHING = {
  body: null,
  visits: [],
  asks: [],
  promise: null,
  papersSent: [],
  links: [],
  passedOver: [],
} as const;
