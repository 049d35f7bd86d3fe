import { lazy, Suspense } from 'react';
import { Route, Switch } from 'wouter';
import { useMe, useSetUpState } from './api/queries.ts';
import type { Me } from './api/types.ts';
import { DuePage } from './desk/due/duePage.tsx';
import { MarksPage } from './desk/marksPage.tsx';
import { NoPage } from './desk/noPage.tsx';
import { OwnPasswordPage } from './desk/ownPasswordPage.tsx';
import { PropertiesPage } from './desk/property/propertiesPage.tsx';
import { PropertyPage } from './desk/property/propertyPage.tsx';
import { SetUpPage } from './desk/setUpPage.tsx';
import { Shell } from './desk/shell.tsx';
import { SignInPage } from './desk/signInPage.tsx';
import { StationPage } from './desk/station/stationPage.tsx';
import { Brand } from './marks/signs.tsx';
import { Loading, Trouble } from './shared/notice.tsx';
import { useWords } from './words/index.ts';

const RoundPages = lazy(() => import('./desk/rounds/roundPages.tsx'));
const LoadPages = lazy(() => import('./desk/load/loadPages.tsx'));
const BookPages = lazy(() => import('./desk/book/bookPages.tsx'));
const EntriesPage = lazy(() => import('./desk/timeline/entriesPage.tsx'));
const DrawingPage = lazy(() => import('./desk/drawing/drawingPage.tsx'));
const HandOutPage = lazy(() => import('./desk/handOut/handOutPage.tsx'));
const TimePage = lazy(() => import('./desk/time/timePage.tsx'));
const PapersPage = lazy(() => import('./desk/papers/papersPage.tsx'));
const AccountPage = lazy(() => import('./desk/account/accountPage.tsx'));
const OfficePages = lazy(() => import('./desk/office/officePages.tsx'));

/** Who is here decides what is shown: the first run, the sign-in, or the pages. */
export function App() {
  const w = useWords();
  const me = useMe();
  const setUp = useSetUpState(me.data === null);
  const failed = me.isError ? me : setUp.isError ? setUp : undefined;
  if (failed?.isError === true)
    return (
      <main className="alone">
        <h1 className="brand">
          <Brand size={40} />
          {w.app.name}
        </h1>
        <Trouble error={failed.error} retry={() => void failed.refetch()} />
      </main>
    );
  if (me.data !== undefined && me.data !== null)
    return me.data.mustChangePassword ? <OwnPasswordPage /> : <Pages person={me.data} />;
  if (setUp.data !== undefined)
    return setUp.data.needed ? <SetUpPage tokenNeeded={setUp.data.tokenNeeded} /> : <SignInPage />;
  return (
    <main className="alone">
      <Loading />
    </main>
  );
}

function Pages({ person }: { readonly person: Me }) {
  return (
    <Shell me={person}>
      <Switch>
        <Route path="/" component={DuePage} />
        <Route path="/properties" component={PropertiesPage} />
        <Route path="/properties/:property">
          {({ property }) => <PropertyPage id={property} key={property} />}
        </Route>
        <Route path="/properties/:property/entries">
          {({ property }) => (
            <Suspense fallback={<Loading />}>
              <EntriesPage id={property} me={person} key={property} />
            </Suspense>
          )}
        </Route>
        <Route path="/properties/:property/drawing">
          {({ property }) => (
            <Suspense fallback={<Loading />}>
              <DrawingPage id={property} me={person} key={property} />
            </Suspense>
          )}
        </Route>
        <Route path="/properties/:property/hand-out">
          {({ property }) => (
            <Suspense fallback={<Loading />}>
              <HandOutPage id={property} key={property} />
            </Suspense>
          )}
        </Route>
        <Route path="/properties/:property/time">
          {({ property }) => (
            <Suspense fallback={<Loading />}>
              <TimePage id={property} key={property} />
            </Suspense>
          )}
        </Route>
        <Route path="/properties/:property/stations/:station">
          {({ property, station }) => (
            <StationPage property={property} station={station} me={person} key={station} />
          )}
        </Route>
        <Route path="/plan/*?">
          {() => (
            <Suspense fallback={<Loading />}>
              <RoundPages />
            </Suspense>
          )}
        </Route>
        <Route path="/load/*?">
          {() => (
            <Suspense fallback={<Loading />}>
              <LoadPages me={person} />
            </Suspense>
          )}
        </Route>
        <Route path="/book/*?">
          {() => (
            <Suspense fallback={<Loading />}>
              <BookPages />
            </Suspense>
          )}
        </Route>
        <Route path="/papers/*?">
          {() => (
            <Suspense fallback={<Loading />}>
              <PapersPage me={person} />
            </Suspense>
          )}
        </Route>
        <Route path="/office/*?">
          {() => (
            <Suspense fallback={<Loading />}>
              <OfficePages me={person} />
            </Suspense>
          )}
        </Route>
        <Route path="/account">
          {() => (
            <Suspense fallback={<Loading />}>
              <AccountPage me={person} />
            </Suspense>
          )}
        </Route>
        <Route path="/marks" component={MarksPage} />
        <Route component={NoPage} />
      </Switch>
    </Shell>
  );
}
