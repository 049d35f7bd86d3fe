import { LAYERS, listThings } from '@sillwatch/ring';
import type { StationState } from '@sillwatch/trade';
import { useDiagramWords } from '../../shared/siteDiagram.tsx';
import { useWords } from '../../words/index.ts';
import { thingName } from './model/names.ts';
import { wholeOf } from './model/selection.ts';
import type { Editor } from './useEditor.ts';

interface Props {
  readonly editor: Editor;
  /** Stations that stand in the ground. */
  readonly inTheGround: ReadonlySet<string>;
  /** Stations in the ground that have no place on it. */
  readonly unplaced: readonly StationState[];
}

/** All that is on the drawing, to be chosen without a pointer. */
export function ThingList({ editor, inTheGround, unplaced }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const d = useDiagramWords();
  const { site, selection } = editor;
  const things = listThings(site);
  return (
    <section className="sheet" aria-labelledby="draw-things">
      <h2 id="draw-things" className="draw-h">
        {words.things}
      </h2>
      {things.length === 0 && <p className="nothing">{words.noThings}</p>}
      {LAYERS.map((layer) => {
        const here = things.filter((thing) => thing.layer === layer);
        if (here.length === 0) return null;
        return (
          <div key={layer} className="draw-layer">
            <h3 className="small quiet">{words.layers[layer]}</h3>
            <ul className="draw-chips">
              {here.map((thing) => {
                const { id } = thing.value;
                const isNew = layer === 'stations' && !inTheGround.has(id);
                const name = thingName(site, thing, w, d);
                return (
                  <li key={id}>
                    <button
                      type="button"
                      className="draw-chip"
                      aria-pressed={selection?.id === id}
                      onClick={() => editor.select(selection?.id === id ? null : wholeOf(id))}
                    >
                      {isNew ? `${name}, ${words.newStation}` : name}
                    </button>
                  </li>
                );
              })}
            </ul>
          </div>
        );
      })}
      {unplaced.length > 0 && (
        <div className="draw-layer">
          <h3 className="small quiet">{words.unplaced}</h3>
          <p className="quiet small">{words.unplacedHint}</p>
          <ul className="draw-chips">
            {unplaced.map(({ station, number, structure }) => (
              <li key={station}>
                <button
                  type="button"
                  className="draw-chip"
                  aria-pressed={editor.placing?.id === station}
                  onClick={() =>
                    editor.chooseBrush('station', { id: station, number, structureId: structure })
                  }
                >
                  {words.placeStation(number)}
                </button>
              </li>
            ))}
          </ul>
        </div>
      )}
    </section>
  );
}
