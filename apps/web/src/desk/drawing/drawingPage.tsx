import { checkSite, findThing, type Point } from '@sillwatch/ring';
import { siteOf } from '@sillwatch/rounds';
import { useCallback, useMemo, useState } from 'react';
import { Link } from 'wouter';
import { useProperty, useTrade } from '../../api/queries.ts';
import type { Me, PropertyAnswer, Trade } from '../../api/types.ts';
import { Sign } from '../../marks/signs.tsx';
import { markOf } from '../../marks/stationMark.tsx';
import { Choice } from '../../shared/choice.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { useWords } from '../../words/index.ts';
import { DrawPanel } from './drawPanel.tsx';
import { EarthPanel } from './earthPanel.tsx';
import { ImportPanel } from './importPanel.tsx';
import { Meanwhile } from './meanwhile.tsx';
import type { Ghost } from './overlay.tsx';
import { Picture } from './picture.tsx';
import { Problems } from './problems.tsx';
import { type Reckoned, RingPanel } from './ringPanel.tsx';
import { SelectionPanel } from './selectionPanel.tsx';
import { StorePanel } from './storePanel.tsx';
import { drawnOf, knownStations, ringNumbers, unplacedStations } from './storing.ts';
import { ThingList } from './thingList.tsx';
import { Toolbar } from './toolbar.tsx';
import { useDrawn } from './useDrawn.ts';
import { type Editor, isSameSite, useEditor } from './useEditor.ts';
import { useKeys } from './useKeys.ts';
import './drawing.css';

interface Props {
  readonly id: string;
  readonly me: Me;
}

/** The page on which a property is drawn; fetched when first opened. */
export default function DrawingPage({ id, me }: Props) {
  const w = useWords();
  const property = useProperty(id);
  const trade = useTrade();
  const failed = property.isError ? property : trade.isError ? trade : undefined;
  if (failed !== undefined)
    return (
      <Page title={w.desk.drawing.title}>
        <Trouble error={failed.error ?? new Error('no answer')} retry={() => void failed.refetch()} />
      </Page>
    );
  if (property.data === undefined || trade.data === undefined) return <Loading />;
  return <DrawingSheet me={me} answer={property.data} trade={trade.data} />;
}

const MODES = ['draw', 'ring', 'earth', 'store'] as const;
type Mode = (typeof MODES)[number];
const NONE: readonly never[] = [];

interface SheetProps {
  readonly me: Me;
  readonly answer: PropertyAnswer;
  readonly trade: Trade;
}

function DrawingSheet({ me, answer, trade }: SheetProps) {
  const w = useWords();
  const words = w.desk.drawing;
  const stored = useMemo(() => siteOf(drawnOf(answer)), [answer]);
  const inTheGround = useMemo(() => knownStations(answer), [answer]);
  const numbers = useMemo(() => ringNumbers(answer), [answer]);
  const editor = useEditor(me.id, answer.property, stored, numbers);
  const [mode, setMode] = useState<Mode>('draw');
  const [reckoned, setReckoned] = useState<Reckoned | null>(null);
  const [look, setLook] = useState<{ readonly at: Point } | null>(null);
  const onLook = useCallback((at: Point) => setLook({ at }), []);
  const { clearance, setClearance, onDrawn } = useDrawn(editor);
  const onKeyDown = useKeys(editor, inTheGround);
  const marks = useMemo(
    () => new Map(answer.stations.map((state) => [state.station, markOf(state)])),
    [answer.stations],
  );
  const { site, draft } = editor;
  const drawn = draft.sites.at(-1) ?? draft.base;
  const shown = reckoned !== null && reckoned.site === site && mode === 'ring' ? reckoned : null;
  const ghosts = useMemo(() => ghostsOf(shown), [shown]);
  const unguarded = useMemo(() => unguardedOf(shown), [shown]);
  const wrongAt = useMemo(
    () => checkSite(site).flatMap(({ id, at }) => (findThing(site, id) === undefined ? [] : [at])),
    [site],
  );
  const unplaced = useMemo(() => unplacedStations(answer, drawn), [answer, drawn]);
  const isSelected = editor.selection !== null && editor.brush === null;
  const selection = <SelectionPanel key="selection" editor={editor} inTheGround={inTheGround} />;
  const isBehind = draft.edits.length > 0 && !isSameSite(draft.base, stored);
  const name = answer.body?.name ?? w.property.unnamed;
  const profile = answer.profile === null ? undefined : trade.profiles.get(answer.profile.id);
  return (
    <Page
      title={words.titleOf(name)}
      eyebrow={
        <Link href={`/properties/${answer.property}`} className="back">
          <Sign name="back" size={18} />
          {words.back}
        </Link>
      }
    >
      {isBehind && <Meanwhile editor={editor} property={answer.property} stored={stored} />}
      {/* biome-ignore lint/a11y/noStaticElementInteractions: keys work wherever one stands in it; each deed has its button too */}
      <div className="draw" onKeyDown={onKeyDown}>
        <div className="draw-main">
          <Toolbar editor={editor} />
          <Picture
            editor={editor}
            drawn={drawn}
            marks={marks}
            ghosts={ghosts}
            inTheGround={inTheGround}
            unguarded={unguarded}
            wrongAt={wrongAt}
            look={look}
            onDrawn={onDrawn}
          />
          {/* Under the picture: nothing above it may come or go while a hand is drawing. */}
          <Standing editor={editor} isDrawn={drawn.structures.length > 0} />
          <div role="alert">
            {editor.fault !== null && <Notice title={words.editFaults[editor.fault]} tone="late" />}
          </div>
          <Problems editor={editor} onLook={onLook} />
        </div>
        <div className="draw-side">
          <Choice
            legend={words.mode}
            options={MODES}
            value={mode}
            onChoose={setMode}
            label={(one) => words.modes[one]}
            compact
          />
          {mode === 'draw' && (
            <>
              {/* What is selected comes first: its numbers are what one is after. */}
              {isSelected && selection}
              <DrawPanel
                key="draw"
                editor={editor}
                clearance={clearance}
                onClearance={setClearance}
                onDrawn={onDrawn}
              />
              {!isSelected && selection}
              <ThingList editor={editor} inTheGround={inTheGround} unplaced={unplaced} />
            </>
          )}
          {mode === 'ring' && (
            <RingPanel
              editor={editor}
              unplaced={unplaced.length}
              profile={profile}
              reckoned={reckoned}
              onReckon={setReckoned}
            />
          )}
          {mode === 'earth' && (
            <>
              <ImportPanel editor={editor} name={answer.property} />
              <EarthPanel editor={editor} key={draft.edits.length} />
            </>
          )}
          {mode === 'store' && (
            <StorePanel
              me={me}
              editor={editor}
              answer={answer}
              stored={stored}
              models={[...trade.models.values()]}
            />
          )}
        </div>
      </div>
    </Page>
  );
}

interface StandingProps {
  readonly editor: Editor;
  readonly isDrawn: boolean;
}

/** How the drawing stands towards what is stored. */
function Standing({ editor, isDrawn }: StandingProps) {
  const w = useWords();
  const words = w.desk.drawing;
  const [isAsking, setAsking] = useState(false);
  const { draft, standing, isKept, pen } = editor;
  const isTouched = draft.edits.length > 0 || pen.corners.length > 0;
  return (
    <>
      {standing === 'broken' && <Notice title={words.keptBroken} tone="open" />}
      {!isTouched && !isDrawn && <p className="quiet">{words.empty}</p>}
      {isTouched && (
        <div className="draw-kept">
          <p role="status">
            {isKept ? words.kept : words.notKept} {standing === 'taken up again' ? words.keptFrom : ''}
          </p>
          {isAsking ? (
            <>
              <button
                type="button"
                className="button"
                onClick={() => {
                  setAsking(false);
                  editor.throwAway();
                }}
              >
                {words.throwAwaySure}
              </button>
              <button type="button" className="plain-button" onClick={() => setAsking(false)}>
                {w.app.back}
              </button>
            </>
          ) : (
            <button type="button" className="plain-button" onClick={() => setAsking(true)}>
              {words.throwAway}
            </button>
          )}
        </div>
      )}
    </>
  );
}

function ghostsOf(shown: Reckoned | null): readonly Ghost[] {
  if (shown?.kind === 'proposal')
    return shown.proposal.stations.map(({ number, at }) => ({
      id: `p${number}`,
      label: String(number),
      at,
      isChosen: shown.chosen.has(number),
    }));
  if (shown?.kind === 'audit')
    return shown.audit.changes.map((change, index) => ({
      id: `c${index}`,
      label: '+',
      at: change.kind === 'add' ? change.at : change.to,
      isChosen: true,
    }));
  return NONE;
}

function unguardedOf(shown: Reckoned | null): readonly (readonly Point[])[] {
  if (shown === null) return NONE;
  const { unguarded } = shown.kind === 'proposal' ? shown.proposal : shown.audit;
  return unguarded.map(({ wall }) => wall);
}
