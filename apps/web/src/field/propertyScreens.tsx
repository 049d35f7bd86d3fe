import { lazy, Suspense } from 'react';
import { Route } from 'wouter';
import { Loading } from '../shared/notice.tsx';
import { LeavePage } from './leave/leavePage.tsx';
import { ChangePage } from './property/changePage.tsx';
import { NewStationPage } from './property/newStationPage.tsx';
import { PropertyPage } from './property/propertyPage.tsx';
import { FixPage } from './serve/fixPage.tsx';
import { StationPage } from './serve/stationPage.tsx';

const ScanPage = lazy(async () => ({ default: (await import('./scan/scanPage.tsx')).ScanPage }));

/** The screens of one property: the same in the yard and in the practice yard. */
export function PropertyScreens() {
  return (
    <>
      <Route path="/p/:property">
        {({ property }) => <PropertyPage property={property} key={property} />}
      </Route>
      <Route path="/p/:property/new">{({ property }) => <NewStationPage property={property} />}</Route>
      <Route path="/p/:property/leave">{({ property }) => <LeavePage property={property} />}</Route>
      <Route path="/p/:property/scan">
        {({ property }) => (
          <Suspense fallback={<Loading />}>
            <ScanPage property={property} />
          </Suspense>
        )}
      </Route>
      <Route path="/p/:property/s/:station">
        {({ property, station }) => <StationPage property={property} station={station} key={station} />}
      </Route>
      <Route path="/p/:property/s/:station/change">
        {({ property, station }) => <ChangePage property={property} station={station} />}
      </Route>
      <Route path="/p/:property/s/:station/fix/:fact">
        {({ property, station, fact }) => <FixPage property={property} station={station} fact={fact} />}
      </Route>
    </>
  );
}
