import type { ReactNode } from 'react';
import { Route, Switch } from 'wouter';
import type { Me } from '../../api/types.ts';
import { useWords } from '../../words/index.ts';
import { NoPage } from '../noPage.tsx';
import { PageLinks } from '../pageLinks.tsx';
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
    <PageLinks
      label={w.desk.load.pages}
      pages={[
        ['/load', w.desk.load.title],
        ['/load/stock', w.desk.load.stockTitle],
      ]}
    />
  );
}
