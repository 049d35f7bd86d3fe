import { Link, Redirect, Route, Switch, useLocation } from 'wouter';
import type { Me, Role } from '../../api/types.ts';
import { Page } from '../../shared/page.tsx';
import { useWords } from '../../words/index.ts';
import { NoPage } from '../noPage.tsx';
import { BundlePaper } from './bundlePaper.tsx';
import { LabelsPaper } from './labelsPaper.tsx';
import { RecordPaper } from './recordPaper.tsx';
import { RenewalsPaper } from './renewalsPaper.tsx';
import { StationsPaper } from './stationsPaper.tsx';
import { WorkListPaper } from './workListPaper.tsx';
import './papers.css';

/** Which papers a role is shown, the one it opens with first; the server's role table decides what it gets. */
const CHOICES = {
  inspector: ['record', 'bundle', 'stations'],
  technician: ['worklist', 'labels', 'stations', 'record'],
  lead: ['worklist', 'record', 'stations', 'labels', 'renewals', 'bundle'],
  owner: ['worklist', 'record', 'stations', 'labels', 'renewals', 'bundle'],
} as const satisfies Readonly<Record<Role, readonly string[]>>;

/** Every paper that is made for more than one visit: what it will hold, how it looks, and the file. */
export default function PapersPage({ me }: { readonly me: Me }) {
  const w = useWords();
  const { papers: words } = w.desk;
  const [at] = useLocation();
  const choices: readonly (typeof CHOICES)[Role][number][] = CHOICES[me.role];
  const isInspector = me.role === 'inspector';
  return (
    <Page title={isInspector ? words.inspectorTitle : words.title}>
      <p className="quiet">{isInspector ? words.inspectorLead : words.lead}</p>
      <nav className="paper-choice" aria-label={words.which}>
        {choices.map((paper) => (
          <Link
            key={paper}
            href={`/papers/${paper}`}
            className="button"
            {...(at === `/papers/${paper}` ? { 'aria-current': 'page' as const } : {})}
          >
            {words.names[paper]}
          </Link>
        ))}
      </nav>
      <Switch>
        <Route path="/papers">
          <Redirect to={`/papers/${choices[0]}`} replace />
        </Route>
        <Route path="/papers/worklist">{() => <WorkListPaper me={me} />}</Route>
        <Route path="/papers/record" component={RecordPaper} />
        <Route path="/papers/stations">{() => <StationsPaper me={me} />}</Route>
        <Route path="/papers/labels">{() => <LabelsPaper me={me} />}</Route>
        <Route path="/papers/renewals" component={RenewalsPaper} />
        <Route path="/papers/bundle" component={BundlePaper} />
        <Route component={NoPage} />
      </Switch>
    </Page>
  );
}
