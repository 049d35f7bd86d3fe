import { checkSite, findThing, listThings, type Point } from '@sillwatch/ring';
import { Sign } from '../../marks/signs.tsx';
import { useDiagramWords } from '../../shared/siteDiagram.tsx';
import { useWords } from '../../words/index.ts';
import { thingName } from './model/names.ts';
import { wholeOf } from './model/selection.ts';
import type { Editor } from './useEditor.ts';

interface Props {
  readonly editor: Editor;
  readonly onLook: (at: Point) => void;
}

/** What is wrong with the drawing, live, each with what to do about it. */
export function Problems({ editor, onLook }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const d = useDiagramWords();
  const { site } = editor;
  // What nobody began to draw is not wrong: the page says how to begin.
  const problems = listThings(site).length === 0 ? [] : checkSite(site);
  return (
    <section className="draw-problems" aria-labelledby="draw-problems">
      <h2 id="draw-problems" className="draw-h">
        {words.problems}
      </h2>
      {problems.length === 0 ? (
        <p className="quiet small">{words.noProblems}</p>
      ) : (
        <ul className="draw-problem-list">
          {problems.map(({ fault, id, at }) => {
            const thing = findThing(site, id);
            return (
              <li key={`${fault} ${id} ${at.x} ${at.y}`} className="draw-problem">
                <Sign name="caution" size={20} />
                <span>
                  {thing !== undefined && <strong>{thingName(site, thing, w, d)}: </strong>}
                  {words.faults[fault]}
                </span>
                {thing !== undefined && (
                  <button
                    type="button"
                    className="plain-button"
                    onClick={() => {
                      editor.select(wholeOf(id));
                      onLook(at);
                    }}
                  >
                    {words.showIt}
                  </button>
                )}
              </li>
            );
          })}
        </ul>
      )}
    </section>
  );
}
