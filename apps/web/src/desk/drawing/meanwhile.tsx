import { type Draft, type Edit, type Rebase, rebase, recordEdit, type Site } from '@sillwatch/ring';
import { useState } from 'react';
import { useFacts, usePeople } from '../../api/queries.ts';
import { Notice } from '../../shared/notice.tsx';
import { useDiagramWords } from '../../shared/siteDiagram.tsx';
import { useWords } from '../../words/index.ts';
import { thingName } from './model/names.ts';
import type { Editor } from './useEditor.ts';

interface Props {
  readonly editor: Editor;
  readonly property: string;
  readonly stored: Site;
}

const DRAWING_KINDS: readonly string[] = [
  'site drawn',
  'structure added',
  'structure removed',
  'station installed',
  'station moved',
  'station removed',
  'property changed',
];

/** Somebody else stored a drawing since this one began: what they changed is shown before anything of it is overwritten. */
export function Meanwhile({ editor, property, stored }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const d = useDiagramWords();
  const [theirs, setTheirs] = useState<ReadonlySet<string>>(new Set());
  const facts = useFacts(property);
  const people = usePeople();
  const result = rebase(editor.draft, stored);
  const last = (facts.data?.facts ?? [])
    .filter(({ kind }) => DRAWING_KINDS.includes(kind))
    .toSorted((a, b) => (a.clock < b.clock ? 1 : -1))[0]?.by;
  const name = last === undefined ? undefined : people.data?.get(last);
  const both = new Set(result.ok ? result.both : []);
  const line = ({ change, thing }: Rebase['theirs'][number]) =>
    `${thingName(change === 'removed' ? editor.draft.base : stored, thing, w, d)}: ${words.changesHere[change]}`;
  const elsewhere = result.theirs.filter(({ thing }) => !both.has(thing.value.id));
  return (
    <div role="alert">
      <Notice title={words.meanwhile} tone="open">
        {name !== undefined && <p>{words.meanwhileBy(name)}</p>}
        {result.ok ? (
          <>
            {elsewhere.length > 0 && (
              <div>
                <p>{words.meanwhileKept}</p>
                <ul className="draw-said-list">
                  {elsewhere.map((one) => (
                    <li key={one.thing.value.id}>{line(one)}</li>
                  ))}
                </ul>
              </div>
            )}
            {both.size > 0 && (
              <div>
                <p>{words.meanwhileBoth}</p>
                <ul className="draw-said-list">
                  {result.theirs
                    .filter(({ thing }) => both.has(thing.value.id))
                    .map((one) => {
                      const { id } = one.thing.value;
                      return (
                        <li key={id}>
                          {line(one)}
                          <label className="draw-check">
                            <input
                              type="checkbox"
                              checked={theirs.has(id)}
                              onChange={({ target }) =>
                                setTheirs(
                                  new Set(
                                    target.checked
                                      ? [...theirs, id]
                                      : [...theirs].filter((other) => other !== id),
                                  ),
                                )
                              }
                            />
                            <span>{words.keepTheirs}</span>
                          </label>
                        </li>
                      );
                    })}
                </ul>
              </div>
            )}
            <p className="small">{words.meanwhileLook}</p>
            <button
              type="button"
              className="button"
              onClick={() => editor.replace(takenIn(result.draft, result.theirs, theirs))}
            >
              {words.takeIn}
            </button>
          </>
        ) : (
          <p>{words.meanwhileApart}</p>
        )}
      </Notice>
    </div>
  );
}

/** The carried-over draft, with what is to stay as the other has it. */
function takenIn(draft: Draft, theirs: Rebase['theirs'], keep: ReadonlySet<string>): Draft {
  const kept = theirs.filter(({ thing }) => keep.has(thing.value.id));
  if (kept.length === 0) return draft;
  const edit: Edit = {
    deed: 'kept of both',
    put: kept.flatMap(({ change, thing }) => (change === 'removed' ? [] : [thing])),
    take: kept.flatMap(({ change, thing }) => (change === 'removed' ? [thing.value.id] : [])),
  };
  return recordEdit(draft, edit);
}
