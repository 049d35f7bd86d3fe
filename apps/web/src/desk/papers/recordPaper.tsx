import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useDeferredValue, useState } from 'react';
import { getJson } from '../../api/client.ts';
import { Field } from '../../shared/field.tsx';
import { Loading, Trouble } from '../../shared/notice.tsx';
import { LanguageOfPaper, type PaperLanguage, usePaperLanguage } from '../../shared/paperLanguage.tsx';
import { useWords } from '../../words/index.ts';
import { addressOf, Outcome } from './outcome.tsx';
import { PropertyChoice } from './propertyChoice.tsx';

/** A page of more is slow to show; the files hold any number. */
const MOST_SHOWN = 200;

/** What part of the application record is asked for; empty = all of it. */
export interface RecordAsked {
  readonly property: string;
  readonly technician: string;
  readonly product: string;
  readonly from: string;
  readonly to: string;
}
export const WHOLE_RECORD: RecordAsked = { property: '', technician: '', product: '', from: '', to: '' };

interface RecordCount {
  readonly applications: number;
  readonly wordings: number;
  readonly properties: number;
  readonly withGaps: number;
}

/** How much of the record is asked for; the last answer stands while the next is on its way. */
export function useRecordCount(asked: RecordAsked) {
  const late = useDeferredValue(asked);
  const path = addressOf('/api/reports/applications', { ...late, format: 'count' });
  return useQuery({
    queryKey: ['record count', path],
    queryFn: () => getJson<RecordCount>(path),
    placeholderData: keepPreviousData,
  });
}

/** The pesticide application record of a period, a property, a product or a technician. */
export function RecordPaper() {
  const w = useWords();
  const { papers: words } = w.desk;
  const [lang, setLang] = usePaperLanguage();
  const [asked, setAsked] = useState<RecordAsked>(() => ({
    ...WHOLE_RECORD,
    property: new URLSearchParams(location.search).get('property') ?? '',
  }));
  const count = useRecordCount(asked);
  const at = (format: string) => addressOf('/api/reports/applications', { ...asked, format, lang });
  return (
    <>
      <RecordForm asked={asked} onChange={setAsked} lang={lang} onLang={setLang} />
      {count.isPending && <Loading />}
      {count.isError && <Trouble error={count.error} retry={() => void count.refetch()} />}
      {count.isSuccess && (
        <Outcome
          name={words.names.record}
          holds={words.holdsRecord(count.data)}
          files={(['pdf', 'csv', 'html'] as const).map((format) => ({ format, href: at(format) }))}
          preview={count.data.wordings <= MOST_SHOWN ? at('html') : undefined}
        >
          {count.data.withGaps > 0 && <p className="quiet">{words.gaps(count.data.withGaps)}</p>}
        </Outcome>
      )}
    </>
  );
}

interface FormProps {
  readonly asked: RecordAsked;
  readonly onChange: (asked: RecordAsked) => void;
  readonly lang: PaperLanguage;
  readonly onLang: (lang: PaperLanguage) => void;
}

export function RecordForm({ asked, onChange, lang, onLang }: FormProps) {
  const w = useWords();
  const { papers: words } = w.desk;
  const line = (
    key: 'technician' | 'product' | 'from' | 'to',
    more: { type?: string; hint?: string } = {},
  ) => (
    <Field
      label={words.record[key]}
      value={asked[key]}
      onChange={(event) => onChange({ ...asked, [key]: event.target.value })}
      {...more}
    />
  );
  return (
    <div className="sheet form form-columns">
      <PropertyChoice
        value={asked.property}
        onPick={(property) => onChange({ ...asked, property })}
        all={words.everyProperty}
      />
      {line('from', { type: 'date' })}
      {line('to', { type: 'date' })}
      {line('technician', { hint: words.record.technicianHint })}
      {line('product', { hint: words.record.productHint })}
      <LanguageOfPaper value={lang} onPick={onLang} />
    </div>
  );
}
