import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { getJson } from '../../api/client.ts';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { usePaperLanguage } from '../../shared/paperLanguage.tsx';
import { useWords } from '../../words/index.ts';
import { addressOf, Outcome } from './outcome.tsx';
import { type RecordAsked, RecordForm, useRecordCount, WHOLE_RECORD } from './recordPaper.tsx';

/** What an inspector takes along: the record, the entries behind it, and how to check them without us. */
export function BundlePaper() {
  const w = useWords();
  const { papers: words } = w.desk;
  const [lang, setLang] = usePaperLanguage();
  const [asked, setAsked] = useState<RecordAsked>(WHOLE_RECORD);
  const [isWhole, setWhole] = useState(true);
  const count = useRecordCount(asked);
  const href = addressOf('/api/reports/bundle', { ...asked, whole: String(isWhole), lang });
  return (
    <>
      <RecordForm asked={asked} onChange={setAsked} lang={lang} onLang={setLang} />
      <label className="paper-whole">
        <input type="checkbox" checked={isWhole} onChange={(event) => setWhole(event.target.checked)} />
        <span>{words.whole}</span>
      </label>
      <p className="quiet">{isWhole ? words.wholeHow : words.partHow}</p>
      {count.isPending && <Loading />}
      {count.isError && <Trouble error={count.error} retry={() => void count.refetch()} />}
      {count.isSuccess && (
        <Outcome
          name={words.names.bundle}
          holds={words.holdsRecord(count.data)}
          files={[{ format: 'zip', href }]}
        >
          <p>{words.inBundle}</p>
        </Outcome>
      )}
      <ChainCheck />
    </>
  );
}

type Check =
  | { readonly sound: true; readonly facts: number; readonly head: string }
  | { readonly sound: false; readonly facts: number; readonly brokenAtSeq: number; readonly why: string };

/** Every stored entry checked against the one before it, on asking, and what that shows in words. */
function ChainCheck() {
  const w = useWords();
  const { papers: words } = w.desk;
  const check = useQuery({
    queryKey: ['chain'],
    queryFn: () => getJson<Check>('/api/verify'),
    enabled: false,
  });
  return (
    <section className="sheet" aria-labelledby="chain-title">
      <h2 id="chain-title">{words.chain}</h2>
      <p className="quiet">{words.chainHow}</p>
      <div className="buttons">
        <button
          type="button"
          className="button"
          disabled={check.isFetching}
          onClick={() => void check.refetch()}
        >
          {check.isFetching ? words.checking : words.check}
        </button>
      </div>
      <div role="status">
        {check.data?.sound === true && (
          <Notice title={words.sound(check.data.facts)}>
            <p>{words.soundHow}</p>
            <p className="paper-seal">{check.data.head}</p>
          </Notice>
        )}
        {check.data?.sound === false && (
          <Notice title={words.broken(check.data.brokenAtSeq)} tone="late">
            <p>{words.brokenHow(check.data.facts)}</p>
            <p className="paper-seal">{check.data.why}</p>
          </Notice>
        )}
      </div>
      {check.isError && <Trouble error={check.error} retry={() => void check.refetch()} />}
    </section>
  );
}
