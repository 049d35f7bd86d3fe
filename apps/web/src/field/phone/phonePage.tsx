import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import { Field } from '../../shared/field.tsx';
import { LanguageChoice } from '../../shared/languageChoice.tsx';
import { Notice } from '../../shared/notice.tsx';
import { ThemeButton } from '../../shared/themeButton.tsx';
import { useWords } from '../../words/index.ts';
import { Screen } from '../parts/frame.tsx';
import { useWatched } from '../store/useWatched.ts';
import { useStore } from '../yard.tsx';
import { HandIn } from './handInPage.tsx';
import { Lock } from './lock.tsx';
import { Refused } from './refused.tsx';

/** The phone itself: what waits, what was refused, room, lock, language. */
export function PhonePage({ onSignedOut }: { readonly onSignedOut: () => void }) {
  const w = useWords();
  return (
    <Screen title={w.field.phone.title}>
      <Sync />
      <Refused />
      <Look />
      <Lock />
      <Room />
      <Along />
      <HandIn />
      <Who onSignedOut={onSignedOut} />
    </Screen>
  );
}

function Sync() {
  const w = useWords();
  const store = useStore();
  const sync = useWatched(store.sync);
  const when = (moment: string | null) =>
    moment === null
      ? w.property.never
      : new Intl.DateTimeFormat(w.locale, { dateStyle: 'medium', timeStyle: 'short' }).format(
          new Date(moment),
        );
  return (
    <section className="sheet" aria-labelledby="sync-title">
      <h2 id="sync-title">{w.field.phone.sync}</h2>
      {sync.problem !== null && <Notice title={w.field.sync.problem[sync.problem]} tone="open" />}
      {sync.clockOffMinutes !== null && (
        <Notice title={w.field.sync.clockOff(sync.clockOffMinutes)} tone="open" />
      )}
      <dl className="facts">
        {[
          [w.field.phone.waitingFacts, w.format.number(sync.waiting)],
          [w.field.phone.waitingPhotos, w.format.number(sync.photosWaiting)],
          [w.field.phone.lastSent, when(sync.lastSentAt)],
          [w.field.phone.lastFetched, when(sync.lastFetchedAt)],
          ...(sync.nextTryAt === null ? [] : [[w.field.phone.nextTry, when(sync.nextTryAt)]]),
        ].map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <button
        type="button"
        className="button button-main thumb"
        disabled={sync.running}
        onClick={() => void store.syncNow()}
      >
        {sync.running ? w.field.sync.sending : w.field.sync.now}
      </button>
      {(sync.problem === 'sign in again' || sync.problem === 'password must be changed') && (
        <Link className="button" href="/sign-in">
          {w.signIn.go}
        </Link>
      )}
      {sync.problem === 'other person signed in' && (
        <a className="button" href="/">
          {w.signIn.go}
        </a>
      )}
    </section>
  );
}

function Look() {
  const w = useWords();
  return (
    <section className="sheet" aria-labelledby="look-title">
      <h2 id="look-title">{w.field.phone.language}</h2>
      <LanguageChoice />
      <ThemeButton wordy />
    </section>
  );
}

function Room() {
  const w = useWords();
  const store = useStore();
  const room = useWatched(store.storage);
  const update = useWatched(store.update);
  const size = (bytes: number) =>
    new Intl.NumberFormat(w.locale, { style: 'unit', unit: 'megabyte', maximumFractionDigits: 1 }).format(
      bytes / 1e6,
    );
  return (
    <section className="sheet" aria-labelledby="room-title">
      <h2 id="room-title">{w.field.phone.storage}</h2>
      {room.tight && <Notice title={w.field.phone.storageTight} tone="late" />}
      {room.usedBytes !== null && room.quotaBytes !== null && (
        <p>{w.field.phone.storageUsed(size(room.usedBytes), size(room.quotaBytes))}</p>
      )}
      <p>{room.persisted === true ? w.field.phone.storageKept : w.field.phone.storageNotKept}</p>
      {room.persisted !== true && (
        <button type="button" className="button" onClick={() => void store.askToPersist()}>
          {w.field.phone.storageAsk}
        </button>
      )}
      <p>{update.offlineReady ? w.field.phone.offlineReady : w.field.phone.offlineNotReady}</p>
      {update.ready && (
        <Notice title={w.field.phone.updateReady}>
          <button type="button" className="button" onClick={() => void store.applyUpdate()}>
            {w.field.phone.update}
          </button>
        </Notice>
      )}
    </section>
  );
}

/** A property that is not among the coming days' work. */
function Along() {
  const w = useWords();
  const store = useStore();
  const [, go] = useLocation();
  const [id, setId] = useState('');
  const [failed, setFailed] = useState(false);
  const fetchIt = async () => {
    setFailed(false);
    try {
      await store.takeAlong(id.trim());
      go(`/p/${id.trim()}`);
    } catch {
      setFailed(true);
    }
  };
  return (
    <details className="sheet">
      <summary>{w.field.phone.takeAlong}</summary>
      <Field
        label={w.field.phone.takeAlongId}
        value={id}
        error={failed ? w.field.phone.takeAlongFailed : undefined}
        onChange={(event) => setId(event.target.value)}
      />
      <button type="button" className="button" disabled={id.trim() === ''} onClick={() => void fetchIt()}>
        {w.field.phone.takeAlongGo}
      </button>
    </details>
  );
}

function Who({ onSignedOut }: { readonly onSignedOut: () => void }) {
  const w = useWords();
  const store = useStore();
  const me = useWatched(store.me);
  const sync = useWatched(store.sync);
  const [wasRefused, setRefused] = useState(false);
  const leave = async (evenUnsent: boolean) => {
    if ((await store.signOut({ evenUnsent })) === 'signed out') onSignedOut();
    else setRefused(true);
  };
  return (
    <section className="sheet" aria-labelledby="who-title">
      <h2 id="who-title">{w.field.phone.who}</h2>
      <p>
        {me.name}, {me.firm.name}
      </p>
      <a className="button" href="/">
        {w.field.toDesk}
      </a>
      {wasRefused ? (
        <Notice title={w.field.phone.signOutRefused(sync.waiting)} tone="late">
          <button type="button" className="button" onClick={() => void leave(true)}>
            {w.field.phone.signOutAnyway}
          </button>
        </Notice>
      ) : (
        <button type="button" className="button" onClick={() => void leave(false)}>
          {w.field.phone.signOut}
        </button>
      )}
    </section>
  );
}
