import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { deleteJson, getJson, postJson } from '../../api/client.ts';
import { localTimeText } from '../../shared/device.ts';
import { Field } from '../../shared/field.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Select } from '../../shared/select.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';

export interface ShownLink {
  readonly link: string;
  readonly purpose: 'property page' | 'property calendar' | 'round calendar';
  readonly person: string | null;
  readonly expiresAt: string | null;
  readonly hasExpired: boolean;
  /** RFC 3339; null = never, as far as is known */
  readonly usedAt: string | null;
}

/** As long as the server gives one. What is no number the browser holds back: it must not come to mean "without end". */
const MOST_DAYS = 1100;

interface Props {
  readonly title: string;
  readonly how: string;
  /** Where addresses are listed and made; one is withdrawn under its id there. */
  readonly path: string;
  /** What an address opens, in words. */
  readonly nameOf: (link: ShownLink) => string;
  readonly choice: string;
  /** value and words of each */
  readonly choices: readonly (readonly [string, string])[];
  readonly usualDays: string;
  readonly bodyOf: (choice: string) => Readonly<Record<string, string>>;
}

/** Secret addresses: made with an end, shown once, withdrawn at will. */
export function Addresses({ title, how, path, nameOf, choice, choices, usualDays, bodyOf }: Props) {
  const w = useWords();
  const links = useQuery({
    queryKey: ['links', path],
    queryFn: async () => (await getJson<{ readonly links: readonly ShownLink[] }>(path)).links,
  });
  const [chosen, setChosen] = useState('');
  const [forDays, setForDays] = useState(usualDays);
  const picked = chosen === '' ? (choices[0]?.[0] ?? '') : chosen;
  const make = useSubmit(() =>
    postJson<ShownLink & { readonly url: string }>(path, {
      ...bodyOf(picked),
      forDays: forDays.trim() === '' ? null : Number(forDays),
    }),
  );
  const withdraw = useSubmit((link: string) => deleteJson<unknown>(`${path}/${encodeURIComponent(link)}`));
  return (
    <section className="sheet">
      <h2>{title}</h2>
      <p className="quiet">{how}</p>
      {make.data !== undefined && <Once key={make.data.link} url={make.data.url} />}
      {links.isPending && <Loading />}
      {links.isError && <Trouble error={links.error} retry={() => void links.refetch()} />}
      {links.data?.length === 0 && <p className="quiet">{w.desk.calendars.none}</p>}
      <ul className="office-list">
        {(links.data ?? []).map((link) => (
          <li key={link.link} className="office-line">
            <span>
              {nameOf(link)},{' '}
              {link.expiresAt === null
                ? w.desk.handOut.noEnd
                : w.desk.handOut.until(link.expiresAt.slice(0, 10))}
              {link.hasExpired && ` (${w.desk.handOut.expired})`}
              <span className="quiet small">
                {'; '}
                {link.usedAt === null
                  ? w.desk.calendars.unused
                  : w.desk.calendars.used(
                      localTimeText(new Date(link.usedAt)).slice(0, 16).replace('T', ' '),
                    )}
              </span>
            </span>
            <button
              type="button"
              className="button"
              aria-label={w.desk.calendars.withdrawOf(nameOf(link))}
              disabled={withdraw.isPending}
              onClick={() => withdraw.mutate(link.link)}
            >
              {w.desk.handOut.withdraw}
            </button>
          </li>
        ))}
      </ul>
      <p role="status">{withdraw.isSuccess && w.desk.calendars.withdrawn}</p>
      <form
        className="form form-columns"
        onSubmit={(event) => {
          event.preventDefault();
          withdraw.reset();
          make.mutate(undefined);
        }}
      >
        <Select label={choice} value={picked} options={choices} onPick={setChosen} />
        <Field
          label={w.desk.handOut.days}
          hint={w.desk.handOut.daysHint}
          type="number"
          min={1}
          max={MOST_DAYS}
          step={1}
          inputMode="numeric"
          value={forDays}
          onChange={(event) => setForDays(event.target.value)}
        />
        <Refusal error={make.error ?? withdraw.error} />
        <div className="buttons">
          <button type="submit" className="button" disabled={make.isPending || picked === ''}>
            {w.desk.handOut.make}
          </button>
        </div>
      </form>
    </section>
  );
}

/** The one time at which the secret is seen. */
function Once({ url }: { readonly url: string }) {
  const w = useWords();
  const [isCopied, setCopied] = useState(false);
  return (
    <Notice title={w.desk.handOut.once} tone="open">
      <p className="one-time">{url}</p>
      {/* Over plain HTTP a browser has no clipboard to write to; the text can be marked and copied by hand. */}
      {window.isSecureContext && (
        <button
          type="button"
          className="button"
          onClick={() =>
            void navigator.clipboard.writeText(url).then(
              () => setCopied(true),
              () => setCopied(false),
            )
          }
        >
          {isCopied ? w.desk.calendars.copied : w.desk.calendars.copy}
        </button>
      )}
      <span role="status" className="hidden-words">
        {isCopied && w.desk.calendars.copied}
      </span>
    </Notice>
  );
}
