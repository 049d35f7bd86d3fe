import { useLayoutEffect, useMemo, useRef, useState } from 'react';
import { Link } from 'wouter';
import { useFacts, useProperty } from '../../api/queries.ts';
import { Sign } from '../../marks/signs.tsx';
import { Loading, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { useWords } from '../../words/index.ts';
import { layOut } from './layout.ts';
import { ringInTime } from './ringInTime.ts';
import { TimeLegend, TimePicture } from './timePicture.tsx';
import { TimeTable } from './timeTable.tsx';

/** The ring in time: where round the house there was pressure, feeding and bait, and when it ended. */
export default function TimePage({ id }: { readonly id: string }) {
  const w = useWords();
  const property = useProperty(id);
  const facts = useFacts(id);
  const title = w.desk.time.title;
  if (property.isPending || facts.isPending) return <Loading />;
  const failed = property.isError ? property : facts.isError ? facts : undefined;
  if (failed?.isError === true)
    return (
      <Page title={title}>
        <Trouble error={failed.error} retry={() => void failed.refetch()} />
      </Page>
    );
  const { structures, stations, body } = property.data ?? { structures: [], stations: [], body: null };
  return (
    <Page
      title={title}
      eyebrow={
        <Link href={`/properties/${id}`} className="back">
          <Sign name="back" size={18} />
          {body?.name ?? w.property.unnamed}
        </Link>
      }
    >
      <p className="quiet">{w.desk.time.lead}</p>
      <TimeLegend />
      {structures.map((structure) => (
        <StructureInTime
          key={structure.structure}
          property={id}
          name={structure.name}
          ring={ringInTime(structure, stations, facts.data?.facts ?? [])}
        />
      ))}
    </Page>
  );
}

interface Props {
  readonly property: string;
  readonly name: string;
  readonly ring: ReturnType<typeof ringInTime>;
}

function StructureInTime({ property, name, ring }: Props) {
  const w = useWords();
  const room = useRef<HTMLElement>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const element = room.current;
    if (element === null) return undefined;
    const watch = new ResizeObserver(() => setWidth(element.clientWidth));
    watch.observe(element);
    setWidth(element.clientWidth);
    return () => watch.disconnect();
  }, []);
  const layout = useMemo(() => layOut(ring, width), [ring, width]);
  return (
    <section className="sheet" aria-label={name}>
      <h2>{name}</h2>
      {ring.walls === null && ring.columns.length > 0 && (
        <p className="quiet small">{w.desk.time.notDrawn}</p>
      )}
      {ring.days.length === 0 ? (
        <p className="nothing">{w.desk.time.nothing}</p>
      ) : (
        <>
          <section
            className="time-room"
            ref={room}
            aria-label={w.desk.time.picture(name)}
            // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide drawing must scroll by keys
            tabIndex={0}
          >
            <TimePicture property={property} ring={ring} layout={layout} />
          </section>
          <TimeTable ring={ring} />
        </>
      )}
    </section>
  );
}
