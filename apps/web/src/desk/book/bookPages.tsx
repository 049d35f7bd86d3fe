import { Route, Switch } from 'wouter';
import { NoPage } from '../noPage.tsx';
import { BaitPage } from './baitPage.tsx';
import { BookPage } from './bookPage.tsx';
import { CriteriaPage } from './criteriaPage.tsx';
import { MinutesPage } from './minutesPage.tsx';
import { WorkPage } from './workPage.tsx';

/** The owner's pages; fetched when first opened. */
export default function BookPages() {
  return (
    <Switch>
      <Route path="/book" component={BookPage} />
      <Route path="/book/stations" component={WorkPage} />
      <Route path="/book/criteria" component={CriteriaPage} />
      <Route path="/book/minutes" component={MinutesPage} />
      <Route path="/book/bait" component={BaitPage} />
      <Route component={NoPage} />
    </Switch>
  );
}
