import {
  type EarthMark,
  endsOf,
  fitEarth,
  type Point,
  placeByBearing,
  placeByMarks,
  ringsOf,
  type Site,
} from '@sillwatch/ring';
import { useId, useState } from 'react';
import { Choice } from '../../shared/choice.tsx';
import { readDecimal } from '../../shared/decimal.ts';
import { Field } from '../../shared/field.tsx';
import { Select } from '../../shared/select.tsx';
import { useWords, type Words } from '../../words/index.ts';
import { lengthText } from './model/names.ts';
import type { Editor } from './useEditor.ts';

interface Props {
  readonly editor: Editor;
}

const HOWS = ['bearing', 'corners'] as const;

interface NamedCorner {
  readonly key: string;
  readonly name: string;
  readonly at: Point;
  readonly next: Point;
}

interface TypedMark {
  readonly key: string;
  readonly latitude: string;
  readonly longitude: string;
}

/** Says where the drawing lies on the earth: by one corner and the bearing of its wall, or by two corners and more. */
export function EarthPanel({ editor }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const id = useId();
  const [how, setHow] = useState<(typeof HOWS)[number]>('bearing');
  const { site } = editor;
  const corners = listCorners(site, w);
  const { georeference } = site;
  return (
    <section className="sheet" aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`} className="draw-h">
        {words.earth}
      </h2>
      <p>
        {georeference === undefined
          ? words.earthNone
          : words.earthAt(degreesText(georeference.latitude), degreesText(georeference.longitude))}
      </p>
      {corners.length > 0 && (
        <>
          <Choice
            legend={words.earthHow}
            options={HOWS}
            value={how}
            onChoose={setHow}
            label={(one) => words.earthHows[one]}
            compact
          />
          {how === 'bearing' ? (
            <ByBearing editor={editor} corners={corners} />
          ) : (
            <ByCorners editor={editor} corners={corners} />
          )}
          <p className="quiet small">{words.earthNote}</p>
        </>
      )}
    </section>
  );
}

interface FormProps extends Props {
  readonly corners: readonly NamedCorner[];
}

function ByBearing({ editor, corners }: FormProps) {
  const w = useWords();
  const words = w.desk.drawing;
  const [mark, setMark] = useState<TypedMark>({ key: corners[0]?.key ?? '', latitude: '', longitude: '' });
  const [bearing, setBearing] = useState('');
  const [tried, setTried] = useState(false);
  const corner = corners.find(({ key }) => key === mark.key) ?? corners[0];
  const place = findMark(mark, corner);
  const azimuth = numberOf(bearing, 360);
  const isReady = place !== undefined && azimuth !== undefined && corner !== undefined;
  return (
    <form
      className="draw-earth"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        setTried(true);
        if (isReady) editor.run(placeByBearing(editor.site, place, [corner.at, corner.next], azimuth));
      }}
    >
      <MarkFields mark={mark} corners={corners} onChange={setMark} isWrong={tried && place === undefined} />
      <Field
        label={words.earthBearing}
        hint={words.earthBearingHint}
        inputMode="decimal"
        autoComplete="off"
        value={bearing}
        error={tried && azimuth === undefined ? words.editFaults['not a number'] : undefined}
        onChange={(event) => setBearing(event.target.value)}
      />
      <button type="submit" className="button">
        {words.earthPlace}
      </button>
    </form>
  );
}

function ByCorners({ editor, corners }: FormProps) {
  const w = useWords();
  const words = w.desk.drawing;
  const [marks, setMarks] = useState<readonly TypedMark[]>(() =>
    [0, Math.min(2, corners.length - 1)].map((index) => ({
      key: corners[index]?.key ?? '',
      latitude: '',
      longitude: '',
    })),
  );
  const [tried, setTried] = useState(false);
  const places = marks.map((mark) =>
    findMark(
      mark,
      corners.find(({ key }) => key === mark.key),
    ),
  );
  const whole = places.flatMap((place) => place ?? []);
  const fit = whole.length === marks.length ? fitEarth(whole) : undefined;
  return (
    <form
      className="draw-earth"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        setTried(true);
        if (whole.length === marks.length) editor.run(placeByMarks(editor.site, whole));
      }}
    >
      {marks.map((mark, index) => (
        <MarkFields
          // biome-ignore lint/suspicious/noArrayIndexKey: marks have no name of their own, and only the last is ever added
          key={index}
          mark={mark}
          corners={corners}
          isWrong={tried && places[index] === undefined}
          onChange={(next) => setMarks(marks.map((one, at) => (at === index ? next : one)))}
        />
      ))}
      <button
        type="button"
        className="plain-button"
        onClick={() => setMarks([...marks, { key: corners[0]?.key ?? '', latitude: '', longitude: '' }])}
      >
        {words.earthAdd}
      </button>
      {fit !== undefined && <Fit editor={editor} fit={fit} marks={marks} corners={corners} />}
      <button type="submit" className="button">
        {words.earthPlace}
      </button>
    </form>
  );
}

interface FitProps extends FormProps {
  readonly fit: NonNullable<ReturnType<typeof fitEarth>>;
  readonly marks: readonly TypedMark[];
}

function Fit({ editor, fit, marks, corners }: FitProps) {
  const w = useWords();
  const words = w.desk.drawing;
  const { unit } = editor;
  return (
    <div role="status">
      <p>{words.earthFit(words.turnText(fit.turnDegrees), lengthText(fit.rmsMetres, unit))}</p>
      <ul className="draw-said-list">
        {fit.residualsMetres.map((residual, index) => {
          const mark = marks[index];
          const name = corners.find(({ key }) => key === mark?.key)?.name ?? '';
          const own = `${name} ${String(index)}`;
          return <li key={own}>{words.earthResidual(name, lengthText(residual, unit))}</li>;
        })}
      </ul>
      <p className="quiet small">{words.earthScale(`${w.format.trim(fit.scale * 100)} %`)}</p>
    </div>
  );
}

interface MarkProps {
  readonly mark: TypedMark;
  readonly corners: readonly NamedCorner[];
  readonly isWrong: boolean;
  readonly onChange: (mark: TypedMark) => void;
}

function MarkFields({ mark, corners, isWrong, onChange }: MarkProps) {
  const w = useWords();
  const words = w.desk.drawing;
  return (
    <fieldset className="draw-mark">
      <Select
        label={words.earthCorner}
        value={mark.key}
        options={corners.map(({ key, name }) => [key, name] as const)}
        onPick={(key) => onChange({ ...mark, key })}
      />
      <div className="draw-pair">
        <Field
          label={words.latitude}
          inputMode="decimal"
          autoComplete="off"
          value={mark.latitude}
          error={isWrong ? words.earthCheck : undefined}
          onChange={(event) => onChange({ ...mark, latitude: event.target.value })}
        />
        <Field
          label={words.longitude}
          inputMode="decimal"
          autoComplete="off"
          value={mark.longitude}
          onChange={(event) => onChange({ ...mark, longitude: event.target.value })}
        />
      </div>
    </fieldset>
  );
}

function listCorners(site: Site, w: Words): readonly NamedCorner[] {
  const words = w.desk.drawing;
  return site.structures.flatMap((value) =>
    ringsOf({ layer: 'structures', value })
      .slice(0, 1)
      .flatMap((ring) =>
        [...ring.points.keys()].flatMap((index) => {
          const ends = endsOf(ring, index);
          if (ends === undefined) return [];
          const name = words.cornerOf(index + 1, value.name || words.structure);
          return [{ key: `${value.id} ${index}`, name, at: ends[0], next: ends[1] }];
        }),
      ),
  );
}

function findMark(mark: TypedMark, corner: NamedCorner | undefined): EarthMark | undefined {
  const latitude = numberOf(mark.latitude, 90);
  const longitude = numberOf(mark.longitude, 180);
  if (corner === undefined || latitude === undefined || longitude === undefined) return undefined;
  if (Math.abs(latitude) > 85 || Math.abs(longitude) > 180) return undefined;
  return { at: corner.at, latitude, longitude };
}

/** Degrees, with a point or a comma before the decimals. */
function numberOf(text: string, most: number): number | undefined {
  const read = readDecimal(text, { most });
  return read.ok ? read.value : undefined;
}

/** To a centimetre or so. */
function degreesText(degrees: number): string {
  return degrees.toFixed(7);
}
