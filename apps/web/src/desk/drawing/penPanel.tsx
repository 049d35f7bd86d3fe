import {
  closePen,
  closureOf,
  headingOf,
  type Point,
  parseLength,
  penRuns,
  penTo,
  SHORTEST_WALL_METRES,
  WORST_ONE_IN,
} from '@sillwatch/ring';
import { type FormEvent, useState } from 'react';
import { Field } from '../../shared/field.tsx';
import { Select } from '../../shared/select.tsx';
import { useWords } from '../../words/index.ts';
import { type Brush, shapeOf } from './model/brush.ts';
import { lengthText } from './model/names.ts';
import { PlaceForm } from './placeForm.tsx';
import type { Editor } from './useEditor.ts';

const FIRST_WAYS = ['east', 'north', 'west', 'south'] as const;
const NEXT_WAYS = ['left', 'right', 'straight on', ...FIRST_WAYS, 'left 45°', 'right 45°'] as const;
/** Towards where the pointer was when the first figure was typed. */
const POINTED = 'as pointed';
type Way = (typeof NEXT_WAYS)[number] | typeof POINTED;

interface Props {
  readonly editor: Editor;
  readonly brush: Brush;
  readonly onDrawn: (points: readonly Point[]) => void;
}

/** Walls by their lengths and turns; shows how far the last corner is from the first, and closes. */
export function PenPanel({ editor, brush, onDrawn }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const { pen } = editor;
  const isPath = shapeOf(brush) === 'path';
  const count = pen.corners.length;
  return (
    <>
      <p className="quiet small">{isPath ? words.lineHint : words.penHint}</p>
      <WallForm editor={editor} />
      <details>
        <summary>{words.firstCorner}</summary>
        <PlaceForm
          editor={editor}
          label={words.addCorner}
          onPlace={(at) => {
            const next = penTo(pen, at);
            if (next.ok) editor.setPen(next.pen);
            else editor.run({ ok: false, fault: next.fault });
          }}
        />
      </details>
      {count > 0 && (
        <>
          <p role="status">{words.corners(count)}</p>
          {isPath ? (
            <button
              type="button"
              className="button button-main"
              disabled={count < 2}
              onClick={() => onDrawn(pen.corners)}
            >
              {words.finish}
            </button>
          ) : (
            <Closing editor={editor} onDrawn={onDrawn} />
          )}
          <button type="button" className="button" onClick={editor.undo}>
            {words.dropCorner}
          </button>
        </>
      )}
    </>
  );
}

function WallForm({ editor }: { readonly editor: Editor }) {
  const w = useWords();
  const words = w.desk.drawing;
  const { pen, unit } = editor;
  const [text, setText] = useState('');
  const [chosen, setWay] = useState<Way>('left');
  const [fault, setFault] = useState<string>();
  const [azimuth, setAzimuth] = useState<number | null>(null);
  const isFirst = headingOf(pen) === undefined;
  const ways: readonly Way[] = [
    ...(azimuth === null ? [] : ([POINTED] as const)),
    ...(isFirst ? FIRST_WAYS : NEXT_WAYS),
  ];
  const way = ways.find((one) => one === chosen) ?? 'east';
  const add = (event: FormEvent) => {
    event.preventDefault();
    // A length alone takes the way that is chosen; what says its own way keeps it.
    const length = parseLength(text, unit);
    const said = way === POINTED ? `az ${(azimuth ?? 0).toFixed(6)}°` : way;
    const result = penRuns(pen, length.ok ? `${said} ${text}` : text, unit);
    if (result.ok) {
      setAzimuth(null);
      if (way === POINTED) setWay('left');
      editor.setPen(result.pen);
      setText('');
      setFault(undefined);
      return;
    }
    const { refusal } = result;
    const why =
      refusal.fault === 'no direction' &&
      !length.ok &&
      !/[a-z°]/i.test(text.replaceAll(/\b(ft|in|cm|mm|m|pies?|pulgadas?|metros?)\b/gi, ''))
        ? words.lengthFaults[length.fault]
        : words.runFaults[refusal.fault];
    setFault(refusal.run === null || refusal.run === 1 ? why : words.runAt(refusal.run, why));
  };
  return (
    <form className="draw-wall" onSubmit={add} noValidate>
      <Field
        label={words.wallLength}
        hint={words.wallHint(unit)}
        value={text}
        autoComplete="off"
        spellCheck={false}
        error={fault}
        onFocus={() => {
          const pointed = editor.pointed.current;
          if (text !== '' || pointed === null) return;
          setAzimuth(pointed);
          setWay(POINTED);
        }}
        onChange={(event) => {
          setText(event.target.value);
          setFault(undefined);
        }}
      />
      <Select
        label={words.way}
        value={way}
        options={ways.map((one) => [one, words.ways[one]] as const)}
        onPick={(value) => setWay(ways.find((one) => one === value) ?? 'left')}
      />
      <button type="submit" className="button">
        {words.addWall}
      </button>
    </form>
  );
}

function Closing({ editor, onDrawn }: Omit<Props, 'brush'>) {
  const w = useWords();
  const words = w.desk.drawing;
  const { pen, unit } = editor;
  const closure = closureOf(pen);
  const first = pen.corners[0];
  const last = pen.corners.at(-1);
  const gap = first === undefined || last === undefined ? 0 : Math.hypot(first.x - last.x, first.y - last.y);
  const meets = gap < SHORTEST_WALL_METRES;
  const close = (how: 'wall' | 'spread') => {
    const result = closePen(pen, how);
    if (result.ok) onDrawn(result.outline);
    else editor.run({ ok: false, fault: result.fault === 'does not close' ? 'does not fit' : result.fault });
  };
  const isNear = closure !== undefined && (closure.oneIn === null || closure.oneIn >= WORST_ONE_IN);
  return (
    <>
      {closure !== undefined && (
        <p className={isNear ? '' : 'quiet small'}>
          {closure.oneIn === null || meets
            ? words.gapNone
            : words.gap(lengthText(closure.lengthMetres, unit), w.format.number(oneInOf(closure.oneIn)))}
        </p>
      )}
      {isNear && !meets && (
        <button type="button" className="button button-main" onClick={() => close('spread')}>
          {words.spread}
        </button>
      )}
      <button
        type="button"
        className={isNear && !meets ? 'button' : 'button button-main'}
        disabled={pen.corners.length < 3}
        onClick={() => close('wall')}
      >
        {meets ? words.close : words.closeWall(lengthText(gap, unit))}
      </button>
    </>
  );
}

/** Cut off, as a surveyor writes it; the dust of adding doubles is not cut. */
function oneInOf(oneIn: number): number {
  return Math.floor(oneIn + 1e-6);
}
