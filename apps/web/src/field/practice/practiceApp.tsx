import { findDay } from '@sillwatch/trade';
import { useCallback, useEffect, useState } from 'react';
import { Link, Redirect, Route, Router, Switch, useLocation } from 'wouter';
import { Page } from '../../shared/page.tsx';
import { useWords } from '../../words/index.ts';
import { PropertyScreens } from '../propertyScreens.tsx';
import { createPracticeStore } from '../store/practice.ts';
import { type Yard, YardProvider } from '../yard.tsx';
import { buildYard, PRACTICE_ME, PRACTICE_PROPERTY } from './buildYard.ts';
import { ComparePage } from './comparePage.tsx';
import type { SceneKey } from './scenes.ts';

interface Open {
  readonly yard: Yard;
  readonly sceneByStation: ReadonlyMap<string, SceneKey>;
}

/** Kept while the page is open, so that a look at another screen loses nothing. */
let kept: Open | undefined;

/** The practice yard: the same screens over a store that sends nothing. */
export function PracticeApp() {
  const [open, setOpen] = useState(kept);
  const [, go] = useLocation();
  const w = useWords();
  const begin = useCallback(async () => {
    const now = new Date();
    const today = findDay([now.getFullYear(), two(now.getMonth() + 1), two(now.getDate())].join('-'));
    if (today === undefined) throw new Error('this device has no calendar day');
    const { firmFacts, facts, sceneByStation } = buildYard(
      today,
      Intl.DateTimeFormat().resolvedOptions().timeZone,
      { yard: w.field.practice.title, house: w.field.practice.house, why: w.field.station.whys[0] ?? '' },
    );
    const store = await createPracticeStore({
      me: PRACTICE_ME,
      firmFacts,
      factsByProperty: new Map([[PRACTICE_PROPERTY, facts]]),
    });
    kept = {
      yard: { store, isPractice: true, sceneOf: (station) => sceneByStation.get(station) },
      sceneByStation,
    };
    setOpen(kept);
    return kept;
  }, [w]);
  const again = useCallback(async () => {
    kept?.yard.store.close();
    kept = undefined;
    await begin();
    go(`/practice/p/${PRACTICE_PROPERTY}`);
  }, [begin, go]);
  return (
    <Switch>
      <Route path="/practice">
        <Door isBegun={open !== undefined} onBegin={() => void again()} />
      </Route>
      <Route path="/practice/*">
        {open === undefined ? (
          <Reopen begin={begin} />
        ) : (
          <YardProvider yard={open.yard}>
            <Router base="/practice">
              <Switch>
                <Route path="/compare">
                  <ComparePage sceneByStation={open.sceneByStation} onAgain={() => void again()} />
                </Route>
                <Route path="/p/*">
                  <PropertyScreens />
                </Route>
                <Route>
                  <Redirect to={`/p/${PRACTICE_PROPERTY}`} />
                </Route>
              </Switch>
            </Router>
          </YardProvider>
        )}
      </Route>
    </Switch>
  );
}

/** A reload in the middle of the yard begins it afresh: it is kept in memory only. */
function Reopen({ begin }: { readonly begin: () => Promise<unknown> }) {
  useEffect(() => {
    void begin();
  }, [begin]);
  return null;
}

function Door({ isBegun, onBegin }: { readonly isBegun: boolean; readonly onBegin: () => void }) {
  const w = useWords();
  return (
    <div className="yard">
      <main id="page" tabIndex={-1} className="yard-page">
        <Page title={w.field.practice.title}>
          <p className="lead">{w.field.practice.lead}</p>
          <p className="demo">{w.field.property.inventedProfile}</p>
          <button type="button" className="button button-main thumb" onClick={onBegin}>
            {isBegun ? w.field.practice.again : w.field.practice.begin}
          </button>
          {isBegun && (
            <>
              <Link href={`/practice/p/${PRACTICE_PROPERTY}`} className="button">
                {w.field.practice.go}
              </Link>
              <Link href="/practice/compare" className="button">
                {w.field.practice.compare}
              </Link>
            </>
          )}
          <Link href="/" className="button">
            {w.field.nav.today}
          </Link>
        </Page>
      </main>
    </div>
  );
}

function two(n: number): string {
  return String(n).padStart(2, '0');
}
