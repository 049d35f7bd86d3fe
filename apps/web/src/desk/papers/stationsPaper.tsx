import { useState } from 'react';
import { Link } from 'wouter';
import { useProperty } from '../../api/queries.ts';
import type { Me } from '../../api/types.ts';
import { Loading, Trouble } from '../../shared/notice.tsx';
import { LanguageOfPaper, usePaperLanguage } from '../../shared/paperLanguage.tsx';
import { useWords } from '../../words/index.ts';
import { addressOf, Outcome } from './outcome.tsx';
import { PropertyChoice } from './propertyChoice.tsx';

/** What stands at a property, what each station holds, and when it is due. */
export function StationsPaper({ me }: { readonly me: Me }) {
  const [lang, setLang] = usePaperLanguage();
  const [property, setProperty] = useState('');
  return (
    <>
      <div className="sheet form form-columns">
        <PropertyChoice value={property} onPick={setProperty} />
        <LanguageOfPaper value={lang} onPick={setLang} />
      </div>
      {property !== '' && <StationsOf me={me} id={property} lang={lang} key={property} />}
    </>
  );
}

interface StationsProps {
  readonly me: Me;
  readonly id: string;
  readonly lang: string;
}

function StationsOf({ me, id, lang }: StationsProps) {
  const w = useWords();
  const { papers: words } = w.desk;
  const property = useProperty(id);
  if (property.isPending) return <Loading />;
  if (property.isError) return <Trouble error={property.error} retry={() => void property.refetch()} />;
  const at = (format: string) =>
    addressOf(`/api/reports/stations/${encodeURIComponent(id)}`, { format, lang });
  const standing = property.data.stations.filter(({ inService }) => inService).length;
  return (
    <Outcome
      name={words.names.stations}
      holds={words.holdsStations(standing, property.data.stations.length - standing)}
      files={(['pdf', 'csv', 'html'] as const).map((format) => ({ format, href: at(format) }))}
      preview={at('html')}
    >
      {(me.role === 'lead' || me.role === 'owner') && (
        <p>
          <Link href={`/properties/${id}/hand-out`}>{w.desk.handOut.open}</Link>
        </p>
      )}
    </Outcome>
  );
}
