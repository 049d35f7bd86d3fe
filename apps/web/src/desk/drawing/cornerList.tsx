import {
  endsOf,
  moveCorner,
  type Ring,
  removeCorner,
  ringsOf,
  setWallLength,
  splitWall,
  type Thing,
} from '@sillwatch/ring';
import { useDiagramWords } from '../../shared/siteDiagram.tsx';
import { useWords } from '../../words/index.ts';
import { LengthField } from './lengthField.tsx';
import { lengthText, thingName } from './model/names.ts';
import { cornerOf, wholeOf } from './model/selection.ts';
import type { Editor } from './useEditor.ts';

interface Props {
  readonly editor: Editor;
  readonly thing: Thing;
}

/** Every corner and wall of a thing as a line of numbers; the one that is selected has its fields open. */
export function CornerList({ editor, thing }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const rings = ringsOf(thing);
  const isPlace = rings[0]?.points.length === 1 && !rings[0].isClosed;
  if (isPlace) return <CornerFields editor={editor} thing={thing} ring={0} index={0} isPlace />;
  return (
    <div className="draw-corners">
      <h3 className="small quiet">{words.cornersAndWalls}</h3>
      {rings.map((ring, number) => {
        const key = `${thing.value.id} ${String(number)}`;
        return (
          <div key={key}>
            {number > 0 && <p className="small quiet">{words.numbered(words.courtyard, number)}</p>}
            <OneRing editor={editor} thing={thing} ring={ring} number={number} />
          </div>
        );
      })}
    </div>
  );
}

interface RingProps extends Props {
  readonly ring: Ring;
  readonly number: number;
}

function OneRing({ editor, thing, ring, number }: RingProps) {
  const w = useWords();
  const words = w.desk.drawing;
  const d = useDiagramWords();
  const { selection, unit, site } = editor;
  const { id } = thing.value;
  return (
    <ol className="draw-corner-list">
      {[...ring.points.keys()].map((index) => {
        const isOpen = selection?.corner?.ring === number && selection.corner.index === index;
        const ends = endsOf(ring, index);
        const length = ends === undefined ? 0 : Math.hypot(ends[1].x - ends[0].x, ends[1].y - ends[0].y);
        return (
          <li key={index}>
            <button
              type="button"
              className="draw-corner"
              aria-expanded={isOpen}
              aria-label={words.select(words.cornerOf(index + 1, thingName(site, thing, w, d)))}
              onClick={() => editor.select(isOpen ? wholeOf(id) : cornerOf({ id, ring: number, index }))}
            >
              <span>{words.corner(index + 1)}</span>
              <span className="quiet">{ends === undefined ? '' : lengthText(length, unit)}</span>
            </button>
            {isOpen && <CornerFields editor={editor} thing={thing} ring={number} index={index} />}
          </li>
        );
      })}
    </ol>
  );
}

interface FieldsProps extends Props {
  readonly ring: number;
  readonly index: number;
  readonly isPlace?: boolean;
}

function CornerFields({ editor, thing, ring, index, isPlace }: FieldsProps) {
  const w = useWords();
  const words = w.desk.drawing;
  const { site, unit } = editor;
  const corner = { id: thing.value.id, ring, index };
  const own = ringsOf(thing)[ring];
  const at = own?.points[index];
  if (own === undefined || at === undefined) return null;
  const ends = endsOf(own, index);
  const length = ends === undefined ? null : Math.hypot(ends[1].x - ends[0].x, ends[1].y - ends[0].y);
  const after = isPlace === true ? wholeOf(corner.id) : cornerOf(corner);
  return (
    <div className="draw-fields">
      <div className="draw-pair">
        <LengthField
          label={words.east}
          value={at.x}
          unit={unit}
          onCommit={(x) => editor.run(moveCorner(site, corner, { x, y: at.y }), after)}
        />
        <LengthField
          label={words.north}
          value={at.y}
          unit={unit}
          onCommit={(y) => editor.run(moveCorner(site, corner, { x: at.x, y }), after)}
        />
      </div>
      {length !== null && (
        <LengthField
          label={words.wallTo}
          {...(own.isClosed ? { hint: words.keepsSquare } : {})}
          value={length}
          unit={unit}
          onCommit={(metres) => editor.run(setWallLength(site, corner, metres), after)}
        />
      )}
      {isPlace !== true && (
        <div className="buttons">
          {ends !== undefined && (
            <button
              type="button"
              className="button"
              onClick={() => editor.run(splitWall(site, corner), cornerOf({ ...corner, index: index + 1 }))}
            >
              {words.split}
            </button>
          )}
          <button
            type="button"
            className="button"
            onClick={() => editor.run(removeCorner(site, corner), wholeOf(corner.id))}
          >
            {words.removeCorner}
          </button>
        </div>
      )}
    </div>
  );
}
