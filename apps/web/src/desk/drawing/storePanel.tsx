import { beginDraft, compareSites, isSamePlace, recordEdit, type Site, siteOfDraft } from '@sillwatch/ring';
import { siteOf } from '@sillwatch/rounds';
import type { StationModel } from '@sillwatch/trade';
import { useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { propertyQuery } from '../../api/queries.ts';
import type { Me, PropertyAnswer } from '../../api/types.ts';
import { Choice } from '../../shared/choice.tsx';
import { localTimeText } from '../../shared/device.ts';
import { Field } from '../../shared/field.tsx';
import { useHeldFocus } from '../../shared/heldFocus.ts';
import { firstInserts } from '../../shared/inserts.ts';
import { Notice } from '../../shared/notice.tsx';
import { Select } from '../../shared/select.tsx';
import { useDiagramWords } from '../../shared/siteDiagram.tsx';
import { Refusal } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';
import { lengthText, thingName } from './model/names.ts';
import { drawnOf, knownStations, leftOver, needsOf, newStations, storeDrawing } from './storing.ts';
import { type Editor, isSameSite } from './useEditor.ts';

interface Props {
  readonly me: Me;
  readonly editor: Editor;
  readonly answer: PropertyAnswer;
  readonly stored: Site;
  readonly models: readonly StationModel[];
}

const SET = ['no', 'yes'] as const;

/** Shows what would be recorded, asks for the reasons that are kept with it, and records it. */
export function StorePanel({ me, editor, answer, stored, models }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const client = useQueryClient();
  const [whyMoved, setWhyMoved] = useState('');
  const [whyRemoved, setWhyRemoved] = useState('');
  const [isSet, setSet] = useState<(typeof SET)[number]>('no');
  const [day, setDay] = useState('');
  const [modelId, setModel] = useState(() => usualModel(answer, models));
  const [tried, setTried] = useState(false);
  const [state, setState] = useState<
    'idle' | 'storing' | { readonly saved: number } | { readonly error: Error }
  >('idle');
  const head = useHeldFocus<HTMLHeadingElement>(state);

  const site = siteOfDraft(editor.draft);
  const property = drawnOf(answer);
  const needs = needsOf(property, site);
  const fresh = newStations(site, knownStations(answer));
  const model = models.find(({ id }) => id === modelId) ?? models[0];
  const { inserts } = firstInserts(model, undefined);
  const holdsBait = inserts.some(({ insert }) => insert === 'bait');
  const isSetting = fresh.length > 0 && isSet === 'yes';
  const today = localTimeText(new Date()).slice(0, 10);
  const lacksWhyMoved = needs.moved.length > 0 && whyMoved.trim() === '';
  const lacksWhyRemoved = needs.removedStructures && whyRemoved.trim() === '';
  const lacksDay = isSetting && (day === '' || day > today);
  const mayPlace = me.role === 'lead' || me.role === 'owner' || !needs.place;
  const isBlocked =
    lacksWhyMoved ||
    lacksWhyRemoved ||
    lacksDay ||
    (isSetting && (holdsBait || model === undefined)) ||
    !mayPlace;
  const isSame = isSameSite(stored, site);
  const records = !isSame && (fresh.length === 0 || isSetting || !isOnlyNew(stored, site, fresh));

  const store = async (event: FormEvent) => {
    event.preventDefault();
    setTried(true);
    if (isBlocked || state === 'storing') return;
    setState('storing');
    try {
      const now = await client.fetchQuery({ ...propertyQuery(answer.property), staleTime: 0 });
      // Others stored meanwhile: the page shows what, and nothing is overwritten unseen.
      if (!isSameSite(editor.draft.base, siteOf(drawnOf(now)))) return setState('idle');
      const saved = await storeDrawing({
        me,
        property: drawnOf(now),
        site,
        choices: {
          whyMoved: needs.moved.length === 0 ? null : whyMoved.trim(),
          whyRemoved: needs.removedStructures ? whyRemoved.trim() : null,
          installed: isSetting && model !== undefined ? { model: model.id, inserts } : null,
        },
        setOn: isSetting ? day : null,
      });
      await client.invalidateQueries({ queryKey: ['facts', answer.property] });
      const after = siteOf(
        drawnOf(await client.fetchQuery({ ...propertyQuery(answer.property), staleTime: 0 })),
      );
      const left = leftOver(editor.draft, after);
      const next = beginDraft(after);
      editor.replace(
        left.length === 0 ? next : recordEdit(next, { deed: 'stations taken over', put: left, take: [] }),
      );
      setTried(false);
      setWhyMoved('');
      setWhyRemoved('');
      setState({ saved });
      void client.invalidateQueries();
    } catch (error) {
      setState({ error: error instanceof Error ? error : new Error(String(error)) });
    }
  };

  return (
    <form className="sheet" aria-labelledby="draw-store" noValidate onSubmit={(event) => void store(event)}>
      <h2 id="draw-store" className="draw-h" ref={head} tabIndex={-1}>
        {words.store}
      </h2>
      {typeof state === 'object' && 'saved' in state && <p role="status">{words.saved(state.saved)}</p>}
      {isSame ? (
        <p className="nothing">{words.storeNothing}</p>
      ) : (
        <>
          {records && <p>{words.storeLead}</p>}
          <Differences editor={editor} stored={stored} moved={needs.moved} />
          {needs.moved.length > 0 && (
            <Field
              label={words.whyMoved}
              hint={words.whyMovedHint}
              value={whyMoved}
              error={tried && lacksWhyMoved ? words.needWhy : undefined}
              onChange={({ target }) => setWhyMoved(target.value)}
            />
          )}
          {needs.removedStructures && (
            <Field
              label={words.whyRemoved}
              value={whyRemoved}
              error={tried && lacksWhyRemoved ? words.needWhy : undefined}
              onChange={({ target }) => setWhyRemoved(target.value)}
            />
          )}
          {fresh.length > 0 && (
            <Choice
              legend={words.setQuestion(fresh.length)}
              options={SET}
              value={isSet}
              onChoose={setSet}
              label={(one) => words.setAnswers[one]}
              hint={(one) => words.setHints[one]}
            />
          )}
          {isSetting && (
            <>
              <Field
                label={words.setDay}
                type="date"
                max={today}
                value={day}
                error={tried && lacksDay ? words.needDay : undefined}
                onChange={({ target }) => setDay(target.value)}
              />
              {model === undefined ? (
                <Notice title={words.setNoModel} tone="open" />
              ) : (
                <Select
                  label={words.setModel}
                  value={model.id}
                  options={models.map(({ id, name }) => [id, w.models[name] ?? name] as const)}
                  onPick={setModel}
                />
              )}
              {holdsBait ? (
                <Notice title={words.setBait} tone="late" />
              ) : (
                <p className="quiet small">
                  {words.setHolds(inserts.map(({ insert }) => w.inserts[insert]).join(', '))}
                </p>
              )}
            </>
          )}
          {!mayPlace && <Notice title={words.onlyOffice} tone="open" />}
          {typeof state === 'object' && 'error' in state && <Refusal error={state.error} />}
          {me.role === 'inspector' ? (
            <Notice title={words.readOnly} />
          ) : (
            <button type="submit" className="button button-main" disabled={state === 'storing' || !records}>
              {state === 'storing' ? words.saving : words.save}
            </button>
          )}
        </>
      )}
    </form>
  );
}

interface DifferencesProps {
  readonly editor: Editor;
  readonly stored: Site;
  readonly moved: ReturnType<typeof needsOf>['moved'];
}

function Differences({ editor, stored, moved }: DifferencesProps) {
  const w = useWords();
  const words = w.desk.drawing;
  const d = useDiagramWords();
  const site = siteOfDraft(editor.draft);
  // Stations have lines of their own: what moved below, and what is new in the question that follows.
  const changes = compareSites(stored, site).filter(({ thing }) => thing.layer !== 'stations');
  return (
    <ul className="draw-said-list">
      {!isSamePlace(stored.georeference, site.georeference) && <li>{words.placeChanged}</li>}
      {changes.map(({ change, thing }) => (
        <li key={thing.value.id}>
          {thingName(change === 'removed' ? stored : site, thing, w, d)}: {words.changesHere[change]}
        </li>
      ))}
      {moved.map(({ number, metres }) => (
        <li key={number}>
          {metres === null
            ? words.stationPlaced(number)
            : words.stationMoved(number, lengthText(metres, editor.unit))}
        </li>
      ))}
    </ul>
  );
}

/** Whether nothing differs but stations that nobody set yet: then there is nothing to record. */
function isOnlyNew(stored: Site, site: Site, fresh: Site['stations']): boolean {
  const ids = new Set(fresh.map(({ id }) => id));
  return isSameSite(stored, { ...site, stations: site.stations.filter(({ id }) => !ids.has(id)) });
}

/** The model that most stations here are of. */
function usualModel({ stations }: PropertyAnswer, models: readonly StationModel[]): string {
  const counts = Map.groupBy(stations, ({ model }) => model);
  const [most] = [...counts].sort((a, b) => b[1].length - a[1].length);
  return most?.[0] ?? models[0]?.id ?? '';
}
