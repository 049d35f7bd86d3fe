import '../desk/shell.css';
import '../desk/station.css';
import './field.css';
import { lazy, Suspense, useEffect, useState } from 'react';
import { Route, Router, Switch, useLocation } from 'wouter';
import { getJson } from '../api/client.ts';
import type { Me } from '../api/types.ts';
import { Loading, Notice } from '../shared/notice.tsx';
import { useWords } from '../words/index.ts';
import { SignIn } from './phone/lazySignIn.ts';
import { LockScreen } from './phone/lock.tsx';
import { PropertyScreens } from './propertyScreens.tsx';
import { adoptPerson, openFieldStore } from './store/open.ts';
import type { FieldStore } from './store/port.ts';
import { useWatched } from './store/useWatched.ts';
import { TodayPage } from './today/todayPage.tsx';
import { useStore, YardProvider } from './yard.tsx';

const PhonePage = lazy(async () => ({ default: (await import('./phone/phonePage.tsx')).PhonePage }));
const Practice = lazy(async () => ({ default: (await import('./practice/practiceApp.tsx')).PracticeApp }));

/** The yard's part of the app: begins from what this phone holds, network or not. */
export function FieldApp() {
  return (
    <Router base="/field">
      <Switch>
        <Route path="/practice/*?">
          <Suspense fallback={<Starting />}>
            <Practice />
          </Suspense>
        </Route>
        <Route>
          <OwnYard />
        </Route>
      </Switch>
    </Router>
  );
}

type Opened =
  | { readonly is: 'opening' }
  | { readonly is: 'open'; readonly store: FieldStore }
  | { readonly is: 'nobody' }
  | { readonly is: 'failed'; readonly why: string };

/** One store a page: screens come and go, what it sends goes on. */
let opening: Promise<FieldStore | undefined> | undefined;

/** Opens the phone's store while the first screen is still being made; the practice yard has its own. */
export function beginField(path: string): void {
  if (path.startsWith('/field/practice')) return;
  opening ??= openStore();
  // The screen that waits for it says what went wrong.
  opening.catch(() => {});
}

function OwnYard() {
  const w = useWords();
  const [opened, setOpened] = useState<Opened>({ is: 'opening' });
  useEffect(() => {
    let isCurrent = true;
    opening ??= openStore();
    opening.then(
      (store) => {
        if (isCurrent) setOpened(store === undefined ? { is: 'nobody' } : { is: 'open', store });
      },
      (error: unknown) => {
        if (isCurrent)
          setOpened({ is: 'failed', why: error instanceof Error ? error.message : String(error) });
      },
    );
    return () => {
      isCurrent = false;
    };
  }, []);
  switch (opened.is) {
    case 'opening':
      return <Starting />;
    case 'failed':
      return (
        <main className="alone">
          <Notice title={w.field.cannotOpen} tone="late">
            <p>
              {w.field.cannotOpenRemedy} {opened.why}
            </p>
          </Notice>
        </main>
      );
    case 'nobody':
      return (
        <Suspense fallback={<Starting />}>
          <SignIn
            onSignedIn={async (me) => {
              const store = adoptPerson(me);
              opening = store;
              setOpened({ is: 'open', store: await store });
            }}
          />
        </Suspense>
      );
    case 'open':
      return (
        <YardProvider yard={{ store: opened.store, isPractice: false, sceneOf: () => undefined }}>
          <Screens
            onSignedIn={async (me) => {
              const own = opened.store.me.get();
              if (me.id === own.id && me.firm.id === own.firm.id) {
                if (opened.store.lock.get().locked) await opened.store.liftLock();
                return opened.store.syncNow();
              }
              // Somebody else has signed in: the yard is theirs now, and what waits here waits beside it.
              opened.store.close();
              const store = adoptPerson(me);
              opening = store;
              setOpened({ is: 'open', store: await store });
            }}
            onSignedOut={() => {
              opening = Promise.resolve(undefined);
              setOpened({ is: 'nobody' });
            }}
          />
        </YardProvider>
      );
  }
}

/** Who last used the yard screens here, else whoever is signed in at the office screens of this browser. */
async function openStore(): Promise<FieldStore | undefined> {
  const store = await openFieldStore();
  if (store !== undefined) return store;
  const me = await getJson<Me>('/api/me').catch(() => undefined);
  return me === undefined || me.mustChangePassword ? undefined : adoptPerson(me);
}

interface ScreensProps {
  readonly onSignedIn: (me: Me) => Promise<void>;
  readonly onSignedOut: () => void;
}

function Screens({ onSignedIn, onSignedOut }: ScreensProps) {
  const lock = useWatched(useStore().lock);
  const [at, go] = useLocation();
  useEffect(() => {
    if (at !== '') window.scrollTo(0, 0);
  }, [at]);
  if (lock.locked) return <LockScreen onSignedIn={onSignedIn} />;
  return (
    <Switch>
      <Route path="/">
        <TodayPage day={undefined} />
      </Route>
      <Route path="/day/:day">{({ day }) => <TodayPage day={day} />}</Route>
      <Route path="/phone">
        <Suspense fallback={<Starting />}>
          <PhonePage onSignedOut={onSignedOut} />
        </Suspense>
      </Route>
      <Route path="/sign-in">
        <Suspense fallback={<Starting />}>
          <SignIn
            onSignedIn={async (me) => {
              go('/phone', { replace: true });
              await onSignedIn(me);
            }}
          />
        </Suspense>
      </Route>
      <Route path="/p/*">
        <PropertyScreens />
      </Route>
      <Route>
        <TodayPage day={undefined} />
      </Route>
    </Switch>
  );
}

function Starting() {
  const w = useWords();
  return (
    <main className="alone">
      <p className="hidden-words">{w.field.starting}</p>
      <Loading />
    </main>
  );
}
