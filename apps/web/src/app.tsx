import { Route, Switch } from 'wouter';
import { useMe } from './api/queries.ts';
import { DuePage } from './desk/due/duePage.tsx';
import { MarksPage } from './desk/marksPage.tsx';
import { NoPage } from './desk/noPage.tsx';
import { PropertiesPage } from './desk/property/propertiesPage.tsx';
import { PropertyPage } from './desk/property/propertyPage.tsx';
import { SetUpPage } from './desk/setUpPage.tsx';
import { Shell } from './desk/shell.tsx';
import { SignInPage } from './desk/signInPage.tsx';
import { StationPage } from './desk/station/stationPage.tsx';
import { Loading, Trouble } from './shared/notice.tsx';

export function App() {
  return (
    <Switch>
      <Route path="/setup" component={SetUpPage} />
      <Route>
        <SignedIn />
      </Route>
    </Switch>
  );
}

function SignedIn() {
  const me = useMe();
  if (me.isPending)
    return (
      <main className="alone">
        <Loading />
      </main>
    );
  if (me.isError)
    return (
      <main className="alone">
        <Trouble error={me.error} retry={() => void me.refetch()} />
      </main>
    );
  if (me.data === null) return <SignInPage />;
  const person = me.data;
  return (
    <Shell me={person}>
      <Switch>
        <Route path="/" component={DuePage} />
        <Route path="/properties" component={PropertiesPage} />
        <Route path="/properties/:property">
          {({ property }) => <PropertyPage id={property} key={property} />}
        </Route>
        <Route path="/properties/:property/stations/:station">
          {({ property, station }) => (
            <StationPage property={property} station={station} me={person} key={station} />
          )}
        </Route>
        <Route path="/marks" component={MarksPage} />
        <Route component={NoPage} />
      </Switch>
    </Shell>
  );
}
