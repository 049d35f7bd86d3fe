import { type ReactNode, useEffect, useState } from 'react';
import { Link } from 'wouter';
import { markOf, StationMark } from '../../marks/stationMark.tsx';
import { Field } from '../../shared/field.tsx';
import { Notice } from '../../shared/notice.tsx';
import { useDays } from '../../words/days.ts';
import { useWords, WordsContext, type YardWords } from '../../words/index.ts';
import { LANGUAGES, loadWords } from '../../words/language.tsx';
import { Failure } from '../parts/failure.tsx';
import { Screen } from '../parts/frame.tsx';
import { NotHere } from '../parts/notHere.tsx';
import { type Begun, begunKey } from '../property/propertyPage.tsx';
import { useDraft } from '../serve/useDraft.ts';
import { useVisit, type VisitHere } from '../serve/useVisit.ts';
import type { FieldProperty } from '../store/port.ts';
import { useWatched } from '../store/useWatched.ts';
import { useFieldProperty, useYard } from '../yard.tsx';
import { Signature } from './signature.tsx';
import { summarise, type VisitSummary } from './summary.ts';

/** Before driving off: what is still owed, what to show the customer, and the visit closed. */
export function LeavePage({ property: id }: { readonly property: string }) {
  const property = useFieldProperty(id);
  const visit = useVisit(property, id);
  if (property === undefined || visit === undefined) return <NotHere back={`/p/${id}`} />;
  return <Leave key={visit.visit} property={property} visit={visit} />;
}

interface Props {
  readonly property: FieldProperty;
  readonly visit: VisitHere;
}

interface Typed {
  readonly note: string;
  readonly licence: string | null;
  readonly signer: string;
  readonly asks: readonly string[];
  /** The customer shall get the report by e-mail. */
  readonly mail: boolean;
}

function Leave({ property, visit }: Props) {
  const w = useWords();
  const { store, isPractice } = useYard();
  const me = useWatched(store.me);
  const sync = useWatched(store.sync);
  const firm = useWatched(store.firm);
  const [typed, setTyped, drop] = useDraft<Typed>(`leave ${visit.visit}`, () => ({
    note: '',
    licence: null,
    signer: '',
    asks: [],
    mail: false,
  }));
  const [begun] = useDraft<Begun>(begunKey(visit.visit), () => ({ at: '' }));
  const [signature, setSignature] = useState<() => Promise<Blob | null>>();
  const [tried, setTried] = useState(false);
  const [isClosed, setClosed] = useState(false);
  const [error, setError] = useState<unknown>();
  const { state } = property;
  const back = `/p/${state.property}`;
  if (typed === undefined || begun === undefined) return null;
  const licence = typed.licence ?? me.licenceNumber ?? '';
  const address = isPractice ? '' : (state.body?.customer.email ?? '').trim();
  const wantsMail = address !== '' && typed.mail;
  const summary = summarise(property, visit, firm.models);
  if (isClosed)
    return (
      <Screen title={w.field.leave.closed} back="/">
        <Notice title={w.field.leave.closed}>
          <p>
            {isPractice
              ? w.field.sync.practice
              : property.unsent.size === 0
                ? w.field.leave.closedSent
                : `${w.field.leave.closedWaiting(sync.waiting)} ${w.field.leave.closedLead}`}
          </p>
          {wantsMail && <p>{w.field.leave.mailQueued(address)}</p>}
        </Notice>
        <Next summary={summary} />
        <Link href={isPractice ? '/compare' : '/'} className="button button-main thumb">
          {isPractice ? w.field.practice.compare : w.field.leave.toToday}
        </Link>
      </Screen>
    );
  const isSignerMissing = signature !== undefined && typed.signer.trim() === '';
  const close = async () => {
    setTried(true);
    if (licence.trim() === '' || isSignerMissing) return;
    try {
      if (wantsMail) await store.wantReport(state.property, visit.visit);
      const picture = await signature?.();
      const signed =
        picture == null
          ? {}
          : { signature: { name: typed.signer.trim(), picture: (await store.addPhoto(picture)).hash } };
      const first = [...visit.seen.values()].map(({ at }) => at)[0];
      await store.record('visit closed', state.property, null, {
        visit: visit.visit,
        task: visit.task,
        technician: me.name,
        licenceNumber: licence.trim(),
        startedAt: begun.at === '' ? (first ?? new Date().toISOString()) : begun.at,
        note: typed.note.trim(),
        ...signed,
        ...(typed.asks.length === 0 ? {} : { asksSettled: typed.asks }),
      });
      drop();
      setClosed(true);
    } catch (failure) {
      setError(failure);
    }
  };
  return (
    <Screen
      title={w.field.leave.title}
      back={back}
      actions={
        <button type="button" className="button button-main thumb" onClick={() => void close()}>
          {w.field.leave.close}
        </button>
      }
    >
      {visit.isClosed && <Notice title={w.field.leave.alreadyClosed} />}
      <StillOwed property={property} visit={visit} back={back} />
      <ForCustomer property={property} summary={summary} />
      {state.asks.length > 0 && (
        <fieldset className="sheet">
          <legend>{w.field.leave.asks}</legend>
          {state.asks.map(({ ask, why }) => (
            <label key={ask} className="step-check">
              <input
                type="checkbox"
                checked={typed.asks.includes(ask)}
                onChange={() =>
                  setTyped({
                    ...typed,
                    asks: typed.asks.includes(ask)
                      ? typed.asks.filter((one) => one !== ask)
                      : [...typed.asks, ask],
                  })
                }
              />
              <span>{why}</span>
            </label>
          ))}
        </fieldset>
      )}
      <section className="sheet">
        <Field
          label={w.field.leave.licence}
          hint={w.field.leave.licenceHint}
          value={licence}
          error={tried && licence.trim() === '' ? w.field.leave.needLicence : undefined}
          onChange={(event) => setTyped({ ...typed, licence: event.target.value })}
        />
        <div className="field">
          <label htmlFor="leave-note">{w.field.leave.note}</label>
          <textarea
            id="leave-note"
            rows={2}
            value={typed.note}
            onChange={(event) => setTyped({ ...typed, note: event.target.value })}
          />
        </div>
        <h2>{w.field.leave.sign}</h2>
        <p className="quiet">{w.field.leave.signByKeys}</p>
        <Signature onChange={(picture) => setSignature(() => picture)} />
        <Field
          label={w.field.leave.signName}
          value={typed.signer}
          error={tried && isSignerMissing ? w.field.leave.needSignName : undefined}
          onChange={(event) => setTyped({ ...typed, signer: event.target.value })}
        />
      </section>
      {address !== '' && (
        <section className="sheet">
          <label className="step-check">
            <input
              type="checkbox"
              checked={typed.mail}
              onChange={() => setTyped({ ...typed, mail: !typed.mail })}
            />
            <span>{w.field.leave.mail(address)}</span>
          </label>
          <p className="quiet">{w.field.leave.mailLead}</p>
        </section>
      )}
      <Failure error={error} />
      {tried && (licence.trim() === '' || isSignerMissing) && (
        <p role="alert" className="field-error">
          {licence.trim() === '' ? w.field.leave.needLicence : w.field.leave.needSignName}
        </p>
      )}
    </Screen>
  );
}

function StillOwed({ property, visit, back }: Props & { readonly back: string }) {
  const w = useWords();
  const left = new Set(visit.left);
  const stations = property.state.stations.filter(({ station }) => left.has(station));
  const unopened = [...visit.seen.values()].filter(({ body }) => body.finding.reach !== 'opened');
  if (stations.length + unopened.length === 0) return <Notice title={w.field.leave.owedNone} />;
  return (
    <Notice title={w.field.leave.owed} tone="open">
      <ul className="yard-cautions">
        {stations.map((state) => (
          <li key={state.station}>
            <Link href={`${back}/s/${state.station}`} className="station-row">
              <StationMark kind={markOf(state)} size={24} silent />
              {w.field.station.title(state.number)}: {w.field.leave.unseen}
            </Link>
          </li>
        ))}
        {unopened.map(({ station, body }) => {
          const number = property.state.stations.find((one) => one.station === station)?.number ?? 0;
          return (
            <li key={station}>
              {w.field.station.title(number)}:{' '}
              {body.finding.reach === 'opened' ? '' : `${w.reaches[body.finding.reach]}, ${body.finding.why}`}
            </li>
          );
        })}
      </ul>
      <p>{w.field.leave.owedLead}</p>
    </Notice>
  );
}

function ForCustomer({
  property,
  summary,
}: {
  readonly property: FieldProperty;
  readonly summary: VisitSummary;
}) {
  const w = useWords();
  const [isBig, setBig] = useState(false);
  return (
    <section
      className={isBig ? 'sheet customer customer-big' : 'sheet customer'}
      aria-labelledby="customer-title"
    >
      <h2 id="customer-title">{w.field.leave.summary}</h2>
      <InTheirWords language={property.state.body?.language}>
        <Told property={property} summary={summary} />
      </InTheirWords>
      <button type="button" className="button" onClick={() => setBig(!isBig)}>
        {isBig ? w.field.leave.showUsual : w.field.leave.showBig}
      </button>
    </section>
  );
}

function Told({ property, summary }: { readonly property: FieldProperty; readonly summary: VisitSummary }) {
  const w = useWords();
  return (
    <div lang={w.locale}>
      <p>
        <strong>{property.state.body?.name ?? w.property.unnamed}</strong>
      </p>
      <ul className="customer-list">
        {linesOf(summary, w).map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <Next summary={summary} />
    </div>
  );
}

/** What is shown to the customer is in the customer's language; every language is on the phone. */
function InTheirWords({
  language,
  children,
}: {
  readonly language: string | undefined;
  readonly children: ReactNode;
}) {
  const [theirs, setTheirs] = useState<YardWords>();
  const code = language?.slice(0, 2).toLowerCase();
  useEffect(() => {
    let isCurrent = true;
    setTheirs(undefined);
    if (code !== undefined && LANGUAGES.includes(code))
      void loadWords(code).then((words) => {
        if (isCurrent) setTheirs(words);
      });
    return () => {
      isCurrent = false;
    };
  }, [code]);
  return theirs === undefined ? children : <WordsContext value={theirs}>{children}</WordsContext>;
}

function linesOf(summary: VisitSummary, w: YardWords): readonly string[] {
  const l = w.field.leave;
  if (summary.opened + summary.unopened === 0) return [l.none];
  const list = new Intl.ListFormat(w.locale, { style: 'long', type: 'conjunction' });
  return [
    l.looked(summary.opened, summary.stations),
    ...(summary.opened > 0 && summary.isQuiet ? [l.noLive] : []),
    ...(summary.unopened > 0 ? [l.unopened(summary.unopened)] : []),
    ...summary.told.map(({ key, numbers }) => {
      const words = list.format(numbers.map((number) => w.format.number(number)));
      return l.told[key](numbers.length === 1 ? l.stationAt(words) : l.stationsAt(words));
    }),
    ...(summary.baits.length === 0
      ? [l.noBait]
      : summary.baits.map(({ product, registration, grams }) =>
          l.bait(w.property.grams(grams), product, registration),
        )),
  ];
}

function Next({ summary: { next } }: { readonly summary: VisitSummary }) {
  const w = useWords();
  const days = useDays();
  return (
    <p>
      <strong>{w.field.leave.nextDue}:</strong>{' '}
      {next === undefined
        ? w.field.leave.nextNone
        : w.field.leave.nextDueOn(w.works1[next.work], days.plain(next.target), days.plain(next.latest))}
    </p>
  );
}
