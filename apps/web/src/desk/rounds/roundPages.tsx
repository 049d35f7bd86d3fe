import { Route, Switch } from 'wouter';
import { NoPage } from '../noPage.tsx';
import { CalendarsPage } from './calendarsPage.tsx';
import { PlanPage } from './planPage.tsx';
import { PlansPage } from './plansPage.tsx';
import { SentPage } from './sentPage.tsx';
import './rounds.css';

/** The pages of the plan; fetched when first opened. */
export default function RoundPages() {
  return (
    <Switch>
      <Route path="/plan" component={PlansPage} />
      <Route path="/plan/sent" component={SentPage} />
      <Route path="/plan/calendars" component={CalendarsPage} />
      <Route path="/plan/:id">{({ id }) => <PlanPage id={id} key={id} />}</Route>
      <Route component={NoPage} />
    </Switch>
  );
}
