import { Choice } from '../../shared/choice.tsx';
import { useWords } from '../../words/index.ts';
import type { Editor } from './useEditor.ts';

const UNITS = ['ft', 'm'] as const;

/** What is at hand whatever one does: back and forth, the unit, and whether places are drawn to what is regular. */
export function Toolbar({ editor }: { readonly editor: Editor }) {
  const w = useWords();
  const words = w.desk.drawing;
  const { draft, pen, unit, isSnapping } = editor;
  const last = draft.edits.at(-1);
  const next = draft.undone.at(-1);
  const canUndo = last !== undefined || pen.corners.length > 0;
  return (
    <div className="draw-bar">
      <div className="buttons">
        <button
          type="button"
          className="button"
          disabled={!canUndo}
          onClick={editor.undo}
          {...(last === undefined || pen.corners.length > 0
            ? {}
            : { title: words.undoOf(words.deeds[last.deed]) })}
        >
          {words.undo}
        </button>
        <button
          type="button"
          className="button"
          disabled={next === undefined}
          onClick={editor.redo}
          {...(next === undefined ? {} : { title: words.redoOf(words.deeds[next.deed]) })}
        >
          {words.redo}
        </button>
        <button
          type="button"
          className="button"
          aria-pressed={isSnapping}
          onClick={() => editor.setSnapping(!isSnapping)}
        >
          {words.snapOn}
        </button>
      </div>
      <Choice
        legend={words.units}
        options={UNITS}
        value={unit}
        onChoose={editor.setUnit}
        label={(one) => words.unit[one]}
        compact
      />
    </div>
  );
}
