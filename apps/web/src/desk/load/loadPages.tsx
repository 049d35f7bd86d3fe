import type { ReactNode } from 'react';
import { Link, Route, Switch } from 'wouter';
import type { Me } from '../../api/types.ts';
import { useWords } from '../../words/index.ts';
import { NoPage } from '../noPage.tsx';
import { LoadPage } from './loadPage.tsx';
import { StockPage } from './stockPage.tsx';
import './load.css';

/** What to carry and what to order; fetched when first opened. */
export default function LoadPages({ me }: { readonly me: Me }) {
  return (
    <Switch>
      <Route path="/load">{() => <LoadPage me={me} links={<Links />} />}</Route>
      <Route path="/load/stock">{() => <StockPage me={me} links={<Links />} />}</Route>
      <Route component={NoPage} />
    </Switch>
  );
}

function Links(): ReactNode {
  const w = useWords();
  return (
    <nav className="buttons" aria-label={w.desk.load.pages}>
      <Link href="/load" className="button">
        {w.desk.load.title}
      </Link>
      <Link href="/load/stock" className="button">
        {w.desk.load.stockTitle}
      </Link>
    </nav>
  );
}
