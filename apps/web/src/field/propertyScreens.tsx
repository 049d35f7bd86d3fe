import { lazy, Suspense } from 'react';
import { Route } from 'wouter';
import { Loading } from '../shared/notice.tsx';
import { PropertyPage } from './property/propertyPage.tsx';
import { StationPage } from './serve/stationPage.tsx';

// What one comes to once a visit, or seldom, is read when it is asked for: from this phone, so without a line too.
const LeavePage = lazy(async () => ({ default: (await import('./leave/leavePage.tsx')).LeavePage }));
const ChangePage = lazy(async () => ({ default: (await import('./property/changePage.tsx')).ChangePage }));
const NewStationPage = lazy(async () => ({
  default: (await import('./property/newStationPage.tsx')).NewStationPage,
}));
const FixPage = lazy(async () => ({ default: (await import('./serve/fixPage.tsx')).FixPage }));
const ScanPage = lazy(async () => ({ default: (await import('./scan/scanPage.tsx')).ScanPage }));

/** The screens of one property: the same in the yard and in the practice yard. */
export function PropertyScreens() {
  return (
    <Suspense fallback={<Loading />}>
      <Route path="/p/:property">
        {({ property }) => <PropertyPage property={property} key={property} />}
      </Route>
      <Route path="/p/:property/new">{({ property }) => <NewStationPage property={property} />}</Route>
      <Route path="/p/:property/leave">{({ property }) => <LeavePage property={property} />}</Route>
      <Route path="/p/:property/scan">{({ property }) => <ScanPage property={property} />}</Route>
      <Route path="/p/:property/s/:station">
        {({ property, station }) => <StationPage property={property} station={station} key={station} />}
      </Route>
      <Route path="/p/:property/s/:station/change">
        {({ property, station }) => <ChangePage property={property} station={station} />}
      </Route>
      <Route path="/p/:property/s/:station/fix/:fact">
        {({ property, station, fact }) => <FixPage property={property} station={station} fact={fact} />}
      </Route>
    </Suspense>
  );
}
