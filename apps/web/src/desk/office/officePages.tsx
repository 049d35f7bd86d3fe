import { Route, Switch } from 'wouter';
import type { Me } from '../../api/types.ts';
import { NoPage } from '../noPage.tsx';
import { ImportPage } from './importPage.tsx';
import { MailPage } from './mailPage.tsx';
import { OfficePage } from './officePage.tsx';
import { PartsPage } from './partsPage.tsx';
import { PeoplePage } from './peoplePage.tsx';
import { ProfilesPage } from './profilesPage.tsx';
import { RoundsPage } from './roundsPage.tsx';
import { SoilPage } from './soilPage.tsx';

/** The pages on which a firm is set up; fetched when first opened. */
export default function OfficePages({ me }: { readonly me: Me }) {
  return (
    <Switch>
      <Route path="/office" component={OfficePage} />
      <Route path="/office/people">{() => <PeoplePage me={me} />}</Route>
      <Route path="/office/rounds">{() => <RoundsPage me={me} />}</Route>
      <Route path="/office/profiles">{() => <ProfilesPage me={me} />}</Route>
      <Route path="/office/parts">{() => <PartsPage me={me} />}</Route>
      <Route path="/office/soil">{() => <SoilPage me={me} />}</Route>
      <Route path="/office/mail" component={MailPage} />
      <Route path="/office/import" component={ImportPage} />
      <Route component={NoPage} />
    </Switch>
  );
}
