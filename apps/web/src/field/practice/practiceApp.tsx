import { findDay } from '@sillwatch/trade';
import { useCallback, useEffect, useState } from 'react';
import { Link, Redirect, Route, Router, Switch, useLocation, useRoute } from 'wouter';
import { Page } from '../../shared/page.tsx';
import { useWords, type Words } from '../../words/index.ts';
import { PropertyScreens } from '../propertyScreens.tsx';
import { deleteIdbShelf, openIdbShelf } from '../store/idbShelf.ts';
import { createMemoryShelf } from '../store/memoryShelf.ts';
import { createPracticeStore } from '../store/practice.ts';
import type { Shelf } from '../store/shelf.ts';
import { type Yard, YardProvider } from '../yard.tsx';
import { buildYard, PRACTICE_ME, PRACTICE_PROPERTY } from './buildYard.ts';
import { ComparePage } from './comparePage.tsx';
import { Decide } from './decide.tsx';
import type { SceneKey } from './scenes.ts';

interface Open {
  readonly yard: Yard;
  readonly sceneByStation: ReadonlyMap<string, SceneKey>;
}

/** Kept while the page is open, so that a look at another screen loses nothing. */
let kept: Open | undefined;
/** Beside the databases of the firm's people, and none of theirs. */
const SHELF = 'sillwatch-practice';
/** On which day the kept yard was made: on another one its windows would be others. */
const DAY_KEY = 'practice day';

/** The practice yard: the same screens over a store that sends nothing. */
export function PracticeApp() {
  const [open, setOpen] = useState(kept);
  const [isLooked, setLooked] = useState(kept !== undefined);
  const [, go] = useLocation();
  const [atDoor] = useRoute('/practice');
  const w = useWords();
  const begin = useCallback(
    async (from: Parameters<typeof openYard>[1]) => {
      kept = await openYard(w, from);
      setOpen(kept);
      setLooked(true);
    },
    [w],
  );
  const again = useCallback(async () => {
    kept?.yard.store.close();
    kept = undefined;
    await begin('afresh');
    go(`/practice/p/${PRACTICE_PROPERTY}`);
  }, [begin, go]);
  const isMissing = open === undefined && !isLooked;
  useEffect(() => {
    // A reload in the middle of the yard goes on where it was; the door only looks whether there is one.
    if (isMissing) void begin(atDoor ? 'kept' : 'kept or afresh');
  }, [isMissing, atDoor, begin]);
  return (
    <Switch>
      <Route path="/practice">
        <Door isBegun={open !== undefined} onBegin={() => void again()} />
      </Route>
      <Route path="/practice/*">
        {open !== undefined && (
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

/** The yard of today as it was left, or a new one; undefined = none was kept and none was asked for. */
async function openYard(w: Words, from: 'kept' | 'kept or afresh' | 'afresh'): Promise<Open | undefined> {
  const now = new Date();
  const text = [now.getFullYear(), two(now.getMonth() + 1), two(now.getDate())].join('-');
  const today = findDay(text);
  if (today === undefined) throw new Error('this device has no calendar day');
  if (from === 'afresh') await deleteIdbShelf(SHELF).catch(() => {});
  let shelf = await openShelf();
  const made = await shelf.transact(['drafts'], 'read', (tx) => tx.get('drafts', DAY_KEY));
  if (made !== text) {
    if (from === 'kept') {
      shelf.close();
      return undefined;
    }
    shelf.close();
    await deleteIdbShelf(SHELF).catch(() => {});
    shelf = await openShelf();
  }
  const { firmFacts, facts, sceneByStation } = buildYard(
    today,
    Intl.DateTimeFormat().resolvedOptions().timeZone,
    { yard: w.field.practice.title, house: w.field.practice.house, why: w.field.station.whys[0] ?? '' },
  );
  const store = await createPracticeStore({
    me: { ...PRACTICE_ME, name: w.field.nav.practice },
    firmFacts,
    factsByProperty: new Map([[PRACTICE_PROPERTY, facts]]),
    shelf,
  });
  await store.saveDraft(DAY_KEY, text);
  return {
    yard: { store, isPractice: true, sceneOf: (station) => sceneByStation.get(station), Decide },
    sceneByStation,
  };
}

/** A browser that keeps nothing practises all the same, until the page is left. */
async function openShelf(): Promise<Shelf> {
  try {
    return await openIdbShelf(SHELF, { onOutdated: () => location.reload() });
  } catch {
    return createMemoryShelf();
  }
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
