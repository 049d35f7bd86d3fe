import { addMonths, dayToText, getDay } from '@sillwatch/trade';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import { getJson } from '../../api/client.ts';
import { localTimeText } from '../../shared/device.ts';
import { Field } from '../../shared/field.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { LANGUAGES } from '../../shared/paperLanguage.tsx';
import { Select } from '../../shared/select.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { nameOfLanguage } from '../../words/language.tsx';
import { addressOf, Outcome } from './outcome.tsx';

/** So many are listed; the file holds all. */
const LISTED = 200;
const LETTER_LANGUAGES = ['own', ...LANGUAGES] as const;
type LetterLanguage = (typeof LETTER_LANGUAGES)[number];
const SIDES = ['one', 'both'] as const;
type Sides = (typeof SIDES)[number];

interface Renewal {
  readonly property: string;
  readonly name: string;
  readonly customer: string;
  readonly renewsOn: string;
  readonly lang: string;
  readonly gaps: readonly ('no customer' | 'no address' | 'no station' | 'no label profile')[];
}
interface Renewals {
  readonly letters: number;
  readonly leftOut: number;
  readonly rows: readonly Renewal[];
}

/** Whose agreement ends in a month: the letters that tell the customers so, all in one file or one by one. */
export function RenewalsPaper() {
  const w = useWords();
  const { papers: words } = w.desk;
  const [letters, setLetters] = useState<LetterLanguage>('own');
  const [sides, setSides] = useState<Sides>('one');
  const [month, setMonth] = useState(() =>
    dayToText(addMonths(getDay(localTimeText(new Date()).slice(0, 10)), 1)).slice(0, 7),
  );
  const written = useRenewals(month, 'letters', month !== '');
  const count = written.data?.letters ?? 0;
  const gaps = written.data?.leftOut ?? 0;
  const leftOut = useRenewals(month, 'left out', gaps > 0);
  const file = addressOf('/api/reports/renewals', { month, letters, sides, lang: w.locale });
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
        <Select
          label={words.lettersLanguage}
          value={letters}
          options={LETTER_LANGUAGES.map(
            (one) => [one, one === 'own' ? words.ownLanguage : nameOfLanguage(one.slice(0, 2))] as const,
          )}
          onPick={(picked) => setLetters(LETTER_LANGUAGES.find((one) => one === picked) ?? 'own')}
        />
        <Select
          label={words.sides}
          value={sides}
          options={SIDES.map((one) => [one, words.sidesOf[one]] as const)}
          onPick={(picked) => setSides(SIDES.find((one) => one === picked) ?? 'one')}
        />
      </div>
      {written.isLoading && <Loading />}
      {written.isError && <Trouble error={written.error} retry={() => void written.refetch()} />}
      {written.isSuccess && count + gaps === 0 && (
        <Notice title={words.noRenewals}>
          <p>{words.noRenewalsRemedy}</p>
        </Notice>
      )}
      {count > 0 && (
        <Outcome
          name={words.names.renewals}
          holds={words.holdsRenewals(count)}
          files={[{ format: 'pdf', href: file }]}
        >
          <p className="quiet">{words.lettersHow}</p>
        </Outcome>
      )}
      {gaps > 0 && (
        <section className="sheet" aria-label={words.leftOut}>
          <p className="summary">{words.holdsLeftOut(gaps)}</p>
          {leftOut.isError && <Trouble error={leftOut.error} retry={() => void leftOut.refetch()} />}
          <ul className="paper-letters">
            {(leftOut.data?.rows ?? []).map((row) => (
              <li key={row.property}>
                <Link href={`/properties/${row.property}`}>{row.name}</Link>
                <span className="quiet small">
                  {` ${words.lacks(row.gaps.map((gap) => words.letterGaps[gap]).join(', '))}`}
                </span>
              </li>
            ))}
          </ul>
          {gaps > LISTED && <p className="quiet">{words.listedOnly(LISTED, gaps)}</p>}
        </section>
      )}
      {count > 0 && (
        <section className="sheet" aria-label={words.letterByLetter}>
          <h2>{words.letterByLetter}</h2>
          {count > LISTED && <p className="quiet">{words.listedOnly(LISTED, count)}</p>}
          <ul className="paper-letters">
            {(written.data?.rows ?? []).map((row) => (
              <Letter key={row.property} row={row} lang={letters === 'own' ? row.lang : letters} />
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

function useRenewals(month: string, of: 'letters' | 'left out', enabled: boolean) {
  return useQuery({
    queryKey: ['renewals', month, of],
    queryFn: () => getJson<Renewals>(addressOf('/api/renewals', { month, of, limit: String(LISTED) })),
    enabled,
  });
}

function Letter({ row, lang }: { readonly row: Renewal; readonly lang: string }) {
  const w = useWords();
  const path = `/api/reports/renewals/${encodeURIComponent(row.property)}`;
  const { names, letterOf } = w.desk.papers;
  const days = useDays();
  return (
    <li className="paper-letter">
      <span>
        <Link href={`/properties/${row.property}`}>{row.name}</Link>
        <span className="quiet small">{` ${letterOf(days.full(getDay(row.renewsOn)), row.name === row.customer ? '' : row.customer)}`}</span>
      </span>
      <span className="paper-formats">
        {(['html', 'pdf'] as const).map((format) => (
          <a
            key={format}
            href={addressOf(path, { format, lang })}
            target="_blank"
            rel="noreferrer"
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
