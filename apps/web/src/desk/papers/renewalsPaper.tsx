import { addMonths, dayToText, getDay } from '@sillwatch/trade';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import { getJson } from '../../api/client.ts';
import type { PropertyRow } from '../../api/types.ts';
import { localTimeText } from '../../shared/device.ts';
import { Field } from '../../shared/field.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { LanguageOfPaper, useOwnLanguage } from '../../shared/paperLanguage.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { addressOf } from './outcome.tsx';

const MOST = 500;

interface Renewals {
  readonly properties: readonly (PropertyRow & { readonly renewsOn: string | null })[];
  readonly total: number;
}

/** Whose agreement ends in a month, with the letter that tells the customer so. */
export function RenewalsPaper() {
  const w = useWords();
  const { papers: words } = w.desk;
  const own = useOwnLanguage();
  const [lang, setLang] = useState(own);
  const [month, setMonth] = useState(() =>
    dayToText(addMonths(getDay(localTimeText(new Date()).slice(0, 10)), 1)).slice(0, 7),
  );
  const renewals = useQuery({
    queryKey: ['renewals', month],
    queryFn: () =>
      getJson<Renewals>(
        addressOf('/api/properties', { order: 'name', renewsIn: month, limit: String(MOST) }),
      ),
    enabled: month !== '',
  });
  const rows = (renewals.data?.properties ?? []).toSorted((a, b) =>
    (a.renewsOn ?? '').localeCompare(b.renewsOn ?? ''),
  );
  return (
    <>
      <div className="sheet form form-columns">
        <Field
          label={words.month}
          type="month"
          required
          value={month}
          onChange={(event) => setMonth(event.target.value)}
        />
        <LanguageOfPaper value={lang} onPick={setLang} />
      </div>
      {renewals.isLoading && <Loading />}
      {renewals.isError && <Trouble error={renewals.error} retry={() => void renewals.refetch()} />}
      {renewals.isSuccess && rows.length === 0 && (
        <Notice title={words.noRenewals}>
          <p>{words.noRenewalsRemedy}</p>
        </Notice>
      )}
      {rows.length > 0 && (
        <section className="sheet" aria-label={words.names.renewals}>
          <p role="status" className="summary">
            {words.holdsRenewals(renewals.data?.total ?? 0)}
          </p>
          <ul className="paper-letters">
            {rows.map((row) => (
              <Letter key={row.property} row={row} lang={lang} />
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

function Letter({ row, lang }: { readonly row: Renewals['properties'][number]; readonly lang: string }) {
  const w = useWords();
  const path = `/api/reports/renewals/${encodeURIComponent(row.property)}`;
  const { names, letterOf } = w.desk.papers;
  const days = useDays();
  return (
    <li className="paper-letter">
      <span>
        <Link href={`/properties/${row.property}`}>{row.name}</Link>
        <span className="quiet small">{` ${letterOf(days.full(getDay(row.renewsOn ?? '')), row.name === row.customer ? '' : row.customer)}`}</span>
      </span>
      <span className="paper-formats">
        {(['html', 'pdf'] as const).map((format) => (
          <a
            key={format}
            href={addressOf(path, { format, lang })}
            aria-label={`${w.property.paperAs(names.renewals, w.formats[format])}: ${row.name}`}
          >
            {w.formats[format]}
          </a>
        ))}
        <Link
          href={`/properties/${row.property}/hand-out?paper=renewal`}
          aria-label={`${w.desk.handOut.open}: ${row.name}`}
        >
          {w.desk.papers.handOut}
        </Link>
      </span>
    </li>
  );
}
