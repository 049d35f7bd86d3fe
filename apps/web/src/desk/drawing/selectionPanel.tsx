import {
  describeThing,
  findThing,
  moveThing,
  removeCorner,
  removeThing,
  type Thing,
  turnThing,
} from '@sillwatch/ring';
import { useState } from 'react';
import { decimalOf } from '../../shared/decimal.ts';
import { Field } from '../../shared/field.tsx';
import { useDiagramWords } from '../../shared/siteDiagram.tsx';
import { useWords } from '../../words/index.ts';
import { CornerList } from './cornerList.tsx';
import { DescribeFields } from './describeFields.tsx';
import { LengthField } from './lengthField.tsx';
import { thingName } from './model/names.ts';
import { wholeOf } from './model/selection.ts';
import type { Editor } from './useEditor.ts';

const FULL_TURN = { most: 360 };

interface Props {
  readonly editor: Editor;
  readonly inTheGround: ReadonlySet<string>;
}

/** The numbers of what is selected, and everything that can be done to it. */
export function SelectionPanel({ editor, inTheGround }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const d = useDiagramWords();
  const { site, selection } = editor;
  const thing = selection === null ? undefined : findThing(site, selection.id);
  return (
    <section className="sheet" aria-labelledby="draw-selected">
      <div className="sheet-head">
        <h2 id="draw-selected" className="draw-h">
          {thing === undefined ? words.selected : thingName(site, thing, w, d)}
        </h2>
        {thing !== undefined && (
          <button type="button" className="button" onClick={() => editor.select(null)}>
            {words.letGo}
          </button>
        )}
      </div>
      {thing === undefined ? (
        <p className="quiet">{words.nothingSelected}</p>
      ) : (
        <Numbers key={thing.value.id} editor={editor} thing={thing} inTheGround={inTheGround} />
      )}
    </section>
  );
}

interface NumbersProps extends Props {
  readonly thing: Thing;
}

function Numbers({ editor, thing, inTheGround }: NumbersProps) {
  const w = useWords();
  const words = w.desk.drawing;
  const { site } = editor;
  const { id } = thing.value;
  return (
    <>
      <DescribeFields
        editor={editor}
        thing={thing}
        onChange={(next) => editor.run(describeThing(site, next))}
      />
      <CornerList editor={editor} thing={thing} />
      <MoveFields editor={editor} id={id} isPlace={'at' in thing.value} />
      <p className="quiet small">{words.nudge}</p>
      <button
        type="button"
        className="button"
        onClick={() => editor.run(removeThing(site, id, inTheGround), null)}
      >
        {words.removeThing}
      </button>
    </>
  );
}

function MoveFields({
  editor,
  id,
  isPlace,
}: {
  readonly editor: Editor;
  readonly id: string;
  readonly isPlace: boolean;
}) {
  const w = useWords();
  const words = w.desk.drawing;
  const [east, setEast] = useState<number | null>(null);
  const [north, setNorth] = useState<number | null>(null);
  const [turn, setTurn] = useState('');
  if (isPlace) return null;
  const degrees = decimalOf(turn, FULL_TURN);
  const canTurn = Number.isFinite(degrees);
  return (
    <details>
      <summary>{words.move}</summary>
      <div className="draw-pair">
        <LengthField label={words.moveEast} value={east} unit={editor.unit} onCommit={setEast} />
        <LengthField label={words.moveNorth} value={north} unit={editor.unit} onCommit={setNorth} />
        <button
          type="button"
          className="button"
          disabled={east === null && north === null}
          onClick={() => {
            if (!editor.run(moveThing(editor.site, id, east ?? 0, north ?? 0), wholeOf(id))) return;
            setEast(null);
            setNorth(null);
          }}
        >
          {words.move}
        </button>
      </div>
      <div className="draw-pair">
        <Field
          label={words.turnBy}
          inputMode="decimal"
          autoComplete="off"
          value={turn}
          onChange={(event) => setTurn(event.target.value)}
        />
        <button
          type="button"
          className="button"
          disabled={!canTurn}
          onClick={() => editor.run(turnThing(editor.site, id, -degrees), wholeOf(id))}
        >
          {words.turnLeft}
        </button>
        <button
          type="button"
          className="button"
          disabled={!canTurn}
          onClick={() => editor.run(turnThing(editor.site, id, degrees), wholeOf(id))}
        >
          {words.turnRight}
        </button>
      </div>
    </details>
  );
}

/** Delete takes the corner that is selected, else the whole thing. */
export function removeSelected(editor: Editor, inTheGround: ReadonlySet<string>): void {
  const { selection, site } = editor;
  if (selection === null) return;
  const { id, corner } = selection;
  if (corner !== null) editor.run(removeCorner(site, { id, ...corner }), wholeOf(id));
  else editor.run(removeThing(site, id, inTheGround), null);
}
