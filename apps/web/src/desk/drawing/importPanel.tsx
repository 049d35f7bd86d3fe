import {
  type GeoJsonRefusal,
  type Georeference,
  listThings,
  siteOfDraft,
  siteToGeoJson,
} from '@sillwatch/ring';
import { type DragEvent, useId, useState } from 'react';
import { newId } from '../../shared/device.ts';
import { Notice } from '../../shared/notice.tsx';
import { saveFile } from '../../shared/saveFile.ts';
import { useWords } from '../../words/index.ts';
import {
  importFeatures,
  isOneDrawing,
  type ListedFeature,
  listFeatures,
  MOST_FILE_BYTES,
  nearestFirst,
} from './model/importFile.ts';
import type { Editor } from './useEditor.ts';

interface Props {
  readonly editor: Editor;
  /** Of the file that is written. */
  readonly name: string;
}

/** So many features can be looked through by hand; all of them are brought in at once up to a few. */
const FEW = 12;

interface Opened {
  readonly name: string;
  readonly text: string;
  readonly features: readonly ListedFeature[];
  readonly chosen: ReadonlySet<number>;
}

type Outcome =
  | { readonly kind: 'done'; readonly words: string }
  | { readonly kind: 'refused'; readonly file: string; readonly reasons: readonly string[] };

/** Outlines from a GeoJSON file, dropped or chosen, and the drawing written as one. */
export function ImportPanel({ editor, name }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const id = useId();
  const [opened, setOpened] = useState<Opened | null>(null);
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  const [isOver, setOver] = useState(false);
  const refused = (file: string, ...reasons: readonly string[]) =>
    setOutcome({ kind: 'refused', file, reasons });
  const reasonOf = ({ fault, path, found }: GeoJsonRefusal) =>
    `${path === '' ? '' : words.fileAt(path, found)}${words.fileFaults[fault]}`;
  const take = (file: string, text: string, chosen: ReadonlySet<number>) => {
    const result = importFeatures(siteOfDraft(editor.draft), text, chosen, {
      newId,
      unnamed: words.structureName,
    });
    if (result.ok) {
      editor.run(result.result, null);
      setOpened(null);
      setOutcome({ kind: 'done', words: words.broughtIn(result.result.edit.put.length, file) });
    } else if ('refusals' in result) refused(file, ...result.refusals.slice(0, 10).map(reasonOf));
    else
      refused(
        file,
        {
          far: words.fileFar,
          'no place': words.fileNoPlace,
          'nothing changes': words.editFaults['nothing changes'],
        }[result.why],
      );
  };
  const open = async (file: File | undefined) => {
    if (file === undefined) return;
    setOpened(null);
    setOutcome(null);
    if (file.size > MOST_FILE_BYTES) return refused(file.name, words.fileTooLarge);
    const text = await file.text();
    const features = listFeatures(text);
    if (features.length <= FEW || isOneDrawing(text))
      return take(file.name, text, new Set(features.map(({ index }) => index)));
    setOpened({ name: file.name, text, features, chosen: new Set() });
  };
  const onDrop = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    void open(event.dataTransfer.files[0]);
  };
  return (
    <section className="sheet" aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`} className="draw-h">
        {words.bringIn}
      </h2>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: what a drop does, the button inside does as well */}
      <div
        className={isOver ? 'draw-drop draw-drop-over' : 'draw-drop'}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={onDrop}
      >
        <p className="small">{words.bringInHint}</p>
        <label className="button">
          {words.choose}
          <input
            type="file"
            accept=".geojson,.json,application/geo+json,application/json"
            className="hidden-words"
            onChange={({ target }) => {
              void open(target.files?.[0]);
              target.value = '';
            }}
          />
        </label>
      </div>
      {opened !== null && (
        <Features near={editor.site.georeference} opened={opened} onChange={setOpened} onTake={take} />
      )}
      {outcome?.kind === 'done' && <p role="status">{outcome.words}</p>}
      {outcome?.kind === 'refused' && (
        <div role="alert">
          <Notice title={words.fileRefused(outcome.file)} tone="late">
            <ul className="draw-said-list">
              {outcome.reasons.map((reason) => (
                <li key={reason}>{reason}</li>
              ))}
            </ul>
          </Notice>
        </div>
      )}
      <button
        type="button"
        className="button"
        disabled={listThings(editor.site).length === 0}
        onClick={() => {
          const text = JSON.stringify(siteToGeoJson(editor.site));
          saveFile(`${name}.geojson`, new Blob([text], { type: 'application/geo+json' }));
        }}
      >
        {words.write}
      </button>
    </section>
  );
}

interface FeaturesProps {
  readonly near: Georeference | undefined;
  readonly opened: Opened;
  readonly onChange: (opened: Opened | null) => void;
  readonly onTake: (file: string, text: string, chosen: ReadonlySet<number>) => void;
}

function Features({ near, opened, onChange, onTake }: FeaturesProps) {
  const w = useWords();
  const words = w.desk.drawing;
  const { features, chosen, name, text } = opened;
  const choose = (numbers: Iterable<number>) => onChange({ ...opened, chosen: new Set(numbers) });
  return (
    <fieldset className="draw-features">
      <legend>{words.fileMany(features.length)}</legend>
      <ul className="scrolls">
        {nearestFirst(features, near).map((feature) => (
          <li key={feature.index}>
            <label className="draw-check">
              <input
                type="checkbox"
                checked={chosen.has(feature.index)}
                onChange={({ target }) =>
                  choose(
                    target.checked
                      ? [...chosen, feature.index]
                      : [...chosen].filter((one) => one !== feature.index),
                  )
                }
              />
              <span>
                {[
                  w.format.number(feature.index + 1),
                  ...(feature.name === '' ? [] : [feature.name]),
                  ...(feature.at === undefined ? [] : [placeText(feature.at)]),
                ].join(' · ')}
              </span>
            </label>
          </li>
        ))}
      </ul>
      <div className="buttons">
        <button
          type="button"
          className="button button-main"
          disabled={chosen.size === 0}
          onClick={() => onTake(name, text, chosen)}
        >
          {words.fileTake(chosen.size)}
        </button>
        <button type="button" className="button" onClick={() => onChange(null)}>
          {words.putAside}
        </button>
      </div>
    </fieldset>
  );
}

/** To a metre or so: enough to find the building on a map. */
function placeText({ latitude, longitude }: Georeference): string {
  return `${latitude.toFixed(5)}, ${longitude.toFixed(5)}`;
}
