import { useState } from 'react';
import { Link } from 'wouter';
import { postJson } from '../../api/client.ts';
import { useProperty } from '../../api/queries.ts';
import { Sign } from '../../marks/signs.tsx';
import { Field } from '../../shared/field.tsx';
import { Loading, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { Select } from '../../shared/select.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';
import { PropertyAddresses } from '../links/propertyAddresses.tsx';
import { MailList } from './mailList.tsx';

const PAPERS = ['visit report', 'renewal letter', 'station list'] as const;
type Paper = (typeof PAPERS)[number];

/** What leaves the house for one property: papers by e-mail, and secret addresses that can be withdrawn. */
export default function HandOutPage({ id }: { readonly id: string }) {
  const w = useWords();
  const property = useProperty(id);
  if (property.isPending) return <Loading />;
  if (property.isError)
    return (
      <Page title={w.desk.handOut.title}>
        <Trouble error={property.error} retry={() => void property.refetch()} />
      </Page>
    );
  const { body, visits } = property.data;
  return (
    <Page
      title={w.desk.handOut.title}
      eyebrow={
        <Link href={`/properties/${id}`} className="back">
          <Sign name="back" size={18} />
          {body?.name ?? w.property.unnamed}
        </Link>
      }
    >
      <SendForm id={id} customer={body?.customer.email ?? ''} lastVisit={visits.at(-1)?.visit} />
      <PropertyAddresses property={id} first="property page" />
      <section className="office-part">
        <h2>{w.desk.handOut.log}</h2>
        <MailList property={id} />
      </section>
    </Page>
  );
}

interface Preview {
  readonly preview: {
    readonly to: string | null;
    readonly subject: string;
    readonly text: string;
    readonly attachment: { readonly name: string; readonly bytes: number };
  };
}

/** A page of letters leads here with the letter chosen. */
function firstPaper(lastVisit: string | undefined): Paper {
  if (new URLSearchParams(location.search).get('paper') === 'renewal') return 'renewal letter';
  return lastVisit === undefined ? 'station list' : 'visit report';
}

interface SendProps {
  readonly id: string;
  readonly customer: string;
  readonly lastVisit: string | undefined;
}

/** First what would go, word for word; then, on asking, sent. */
function SendForm({ id, customer, lastVisit }: SendProps) {
  const w = useWords();
  const [paper, setPaper] = useState<Paper>(() => firstPaper(lastVisit));
  const [to, setTo] = useState(customer);
  const [language, setLanguage] = useState('');
  const send = (preview: boolean) =>
    postJson<Preview>(`/api/properties/${encodeURIComponent(id)}/mail`, {
      paper,
      ...(paper === 'visit report' && lastVisit !== undefined ? { visit: lastVisit } : {}),
      ...(to.trim() === '' ? {} : { to: to.trim() }),
      ...(language === '' ? {} : { language }),
      preview,
    });
  const look = useSubmit(() => send(true));
  const go = useSubmit(() => send(false));
  const change = (): void => {
    look.reset();
    go.reset();
  };
  const shown = look.data?.preview;
  return (
    <form
      className="sheet form form-columns"
      onChange={change}
      onSubmit={(event) => {
        event.preventDefault();
        look.mutate(undefined);
      }}
    >
      <h2>{w.desk.handOut.mail}</h2>
      <Select
        label={w.desk.handOut.paper}
        value={paper}
        options={PAPERS.filter((one) => one !== 'visit report' || lastVisit !== undefined).map((one) => [
          one,
          w.desk.handOut.papers[one],
        ])}
        onPick={(picked) => setPaper(PAPERS.find((one) => one === picked) ?? 'station list')}
      />
      <Field
        label={w.desk.handOut.to}
        type="email"
        required
        value={to}
        onChange={(event) => setTo(event.target.value)}
      />
      <Select
        label={w.desk.handOut.language}
        value={language}
        options={[
          ['', w.desk.handOut.theirs],
          ['en-US', 'English'],
          ['es-US', 'Español'],
        ]}
        onPick={setLanguage}
      />
      <div className="buttons">
        <button type="submit" className="button" disabled={look.isPending}>
          {w.desk.handOut.preview}
        </button>
      </div>
      {shown !== undefined && (
        <div className="move-outcome">
          <p>
            <strong>{shown.subject}</strong>
          </p>
          <p className="mail-text">{shown.text}</p>
          <p className="quiet small">
            {w.desk.handOut.attached(shown.attachment.name, shown.attachment.bytes)}
          </p>
          {go.data === undefined ? (
            <button
              type="button"
              className="button button-main"
              disabled={go.isPending}
              onClick={() => go.mutate(undefined)}
            >
              {w.desk.handOut.send(shown.to ?? '')}
            </button>
          ) : (
            <p role="status">{w.desk.handOut.queued}</p>
          )}
        </div>
      )}
      <Refusal error={look.error ?? go.error} />
    </form>
  );
}
