import type { BlockedBy, Remedy, UnguardedStretch } from '@sillwatch/ring';
import { useDiagramWords } from '../../shared/siteDiagram.tsx';
import { useWords } from '../../words/index.ts';
import { lengthText, nameOfId } from './model/names.ts';
import type { Editor } from './useEditor.ts';

interface Props {
  readonly editor: Editor;
  readonly unguarded: readonly UnguardedStretch[];
}

/** Walls that no station guards: how long, why, and what helps. */
export function UnguardedList({ editor, unguarded }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const d = useDiagramWords();
  const { site, unit } = editor;
  if (unguarded.length === 0) return null;
  const named = (one: BlockedBy | Remedy) => ('id' in one ? nameOfId(site, one.id, w, d) : '');
  return (
    <>
      <h3>{words.unguarded}</h3>
      <ul className="draw-said-list">
        {unguarded.map(({ structureId, from, lengthMetres, why, remedies }) => (
          <li key={`${structureId} ${from.x} ${from.y}`}>
            <strong>
              {words.stretch(lengthText(lengthMetres, unit), nameOfId(site, structureId, w, d))}
            </strong>
            <br />
            {words.because}: {unique(why.map((one) => words.blocked[one.kind](named(one))))}.
            {remedies.length > 0 && (
              <>
                <br />
                {words.remedy}: {unique(remedies.map((one) => words.remedies[one.kind](named(one))))}.
              </>
            )}
          </li>
        ))}
      </ul>
    </>
  );
}

function unique(sentences: readonly string[]): string {
  return [...new Set(sentences)].join('; ');
}
