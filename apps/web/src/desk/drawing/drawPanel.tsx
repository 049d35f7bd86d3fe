import type { Point } from '@sillwatch/ring';
import { useId, useState } from 'react';
import { useHeldFocus } from '../../shared/heldFocus.ts';
import { useDiagramWords } from '../../shared/siteDiagram.tsx';
import { useWords } from '../../words/index.ts';
import { LengthField } from './lengthField.tsx';
import {
  BRUSH_GROUPS,
  type Brush,
  type BrushGroup,
  isBrush,
  needsClearance,
  shapeOf,
} from './model/brush.ts';
import { brushName } from './model/names.ts';
import { PenPanel } from './penPanel.tsx';
import { PlaceForm } from './placeForm.tsx';
import type { Editor } from './useEditor.ts';

interface Props {
  readonly editor: Editor;
  readonly clearance: number | null;
  readonly onClearance: (lengthMetres: number) => void;
  readonly onDrawn: (points: readonly Point[]) => void;
}

const GROUPS: readonly BrushGroup[] = ['structures', 'grounds', 'lines', 'places', 'concerns'];

/** Chooses what is drawn next, and draws it by typed numbers as well as by hand. */
export function DrawPanel({ editor, clearance, onClearance, onDrawn }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const d = useDiagramWords();
  const id = useId();
  const [next, setNext] = useState<Brush>('structure');
  const { brush, selection, site } = editor;
  const chosen = brush ?? next;
  const head = useHeldFocus<HTMLHeadingElement>(brush);
  const isOfStructure = site.structures.some((one) => one.id === selection?.id);
  const lacksStructure =
    (next === 'courtyard' && !isOfStructure) || (next === 'station' && site.structures.length === 0);
  const lacksClearance = needsClearance(chosen) && clearance === null;
  return (
    <section className="sheet draw-tools" aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`} className="draw-h" ref={head} tabIndex={-1}>
        {editor.placing !== null
          ? words.placeStation(editor.placing.number)
          : brush === null
            ? words.draw
            : words.drawing(brushName(brush, w, d))}
      </h2>
      {brush === null && (
        <>
          <div className="field">
            <label htmlFor={id} className="hidden-words">
              {words.draw}
            </label>
            <select
              id={id}
              value={next}
              onChange={({ target }) => (isBrush(target.value) ? setNext(target.value) : undefined)}
            >
              {GROUPS.map((group) => (
                <optgroup key={group} label={words.drawGroups[group]}>
                  {BRUSH_GROUPS[group].map((one) => (
                    <option key={one} value={one}>
                      {brushName(one, w, d)}
                    </option>
                  ))}
                </optgroup>
              ))}
            </select>
          </div>
          {next === 'courtyard' && lacksStructure && <p className="quiet small">{words.needStructure}</p>}
          {next === 'station' && lacksStructure && <p className="quiet small">{words.faults.no_structure}</p>}
        </>
      )}
      {needsClearance(chosen) && (
        <LengthField
          label={words.clearance}
          {...(lacksClearance ? { hint: words.needClearance } : {})}
          value={clearance}
          unit={editor.unit}
          onCommit={onClearance}
        />
      )}
      {brush === null ? (
        <button
          type="button"
          className="button button-main"
          disabled={lacksStructure || lacksClearance}
          onClick={() => editor.chooseBrush(next)}
        >
          {words.begin(brushName(next, w, d))}
        </button>
      ) : (
        <>
          {shapeOf(brush) === 'place' ? (
            <PlaceByNumbers editor={editor} brush={brush} onDrawn={onDrawn} />
          ) : (
            <PenPanel editor={editor} brush={brush} onDrawn={onDrawn} />
          )}
          <button type="button" className="button" onClick={() => editor.chooseBrush(null)}>
            {words.stop}
          </button>
        </>
      )}
    </section>
  );
}

interface PlaceProps {
  readonly editor: Editor;
  readonly brush: Brush;
  readonly onDrawn: (points: readonly Point[]) => void;
}

function PlaceByNumbers({ editor, brush, onDrawn }: PlaceProps) {
  const w = useWords();
  const words = w.desk.drawing;
  const d = useDiagramWords();
  return (
    <>
      <p className="quiet small">{words.placeIt(brushName(brush, w, d))}</p>
      <PlaceForm editor={editor} label={words.putThere} onPlace={(at) => onDrawn([at])} />
    </>
  );
}
