import { useState } from 'react';
import { useProperty } from '../../api/queries.ts';
import type { PropertyAnswer } from '../../api/types.ts';
import { Field } from '../../shared/field.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { LanguageOfPaper, usePaperLanguage } from '../../shared/paperLanguage.tsx';
import { Select } from '../../shared/select.tsx';
import { useWords } from '../../words/index.ts';
import { addressOf, Outcome } from './outcome.tsx';
import { PropertyChoice } from './propertyChoice.tsx';

/** Named by page, columns and rows; a roll by its label in millimetres (`LABEL_STOCKS` of the paper room). */
const STOCKS = ['letter 3x10', 'letter 2x5', 'A4 3x8', 'A4 3x7', 'roll 57x32', 'roll 100x50'] as const;
type Stock = (typeof STOCKS)[number];

/** Labels with codes for the tags of a property's stations, on the sheet that is in the printer. */
export function LabelsPaper() {
  const w = useWords();
  const { papers: words } = w.desk;
  const [lang, setLang] = usePaperLanguage();
  const [id, setId] = useState('');
  const [stock, setStock] = useState<Stock>('letter 3x10');
  const [only, setOnly] = useState('');
  const [first, setFirst] = useState('1');
  const grid = gridOf(stock);
  const place = Number(first);
  const isPlace =
    grid === null || (Number.isInteger(place) && place >= 1 && place <= grid.columns * grid.rows);
  return (
    <>
      <div className="sheet form form-columns">
        <PropertyChoice value={id} onPick={setId} />
        <Select
          label={words.stock}
          value={stock}
          options={STOCKS.map((one) => [one, stockInWords(one, words)] as const)}
          onPick={(picked) => setStock(STOCKS.find((one) => one === picked) ?? 'letter 3x10')}
        />
        <Field
          label={words.only}
          hint={words.onlyHint}
          value={only}
          error={readNumbers(only) === null ? words.onlyWrong : undefined}
          onChange={(event) => setOnly(event.target.value)}
        />
        {grid !== null && (
          <Field
            label={words.first}
            hint={words.firstHint}
            inputMode="numeric"
            value={first}
            error={isPlace ? undefined : words.firstWrong(grid.columns * grid.rows)}
            onChange={(event) => setFirst(event.target.value)}
          />
        )}
        <LanguageOfPaper value={lang} onPick={setLang} />
      </div>
      {id !== '' && isPlace && readNumbers(only) !== null && (
        <LabelsOf id={id} stock={stock} only={only} skip={grid === null ? 0 : place - 1} lang={lang} />
      )}
    </>
  );
}

interface Grid {
  readonly columns: number;
  readonly rows: number;
}

function gridOf(stock: Stock): Grid | null {
  const [, columns, rows] = /^(?:letter|A4) (\d+)x(\d+)$/.exec(stock) ?? [];
  return columns === undefined || rows === undefined
    ? null
    : { columns: Number(columns), rows: Number(rows) };
}

function stockInWords(
  stock: Stock,
  words: { sheet: (page: string, columns: number, rows: number) => string; roll: (size: string) => string },
): string {
  const grid = gridOf(stock);
  const [page = '', size = ''] = stock.split(' ');
  return grid === null ? words.roll(size.replace('x', ' × ')) : words.sheet(page, grid.columns, grid.rows);
}

/** `1-10, 14` as the server reads it; undefined = all; null = it cannot be read. */
function readNumbers(text: string): ReadonlySet<number> | undefined | null {
  if (text.trim() === '') return undefined;
  const numbers = new Set<number>();
  for (const part of text.split(',')) {
    const [, first = '', last = first] = /^(\d{1,4})(?:\s*[-–]\s*(\d{1,4}))?$/.exec(part.trim()) ?? [];
    if (first === '' || Number(last) < Number(first)) return null;
    for (let number = Number(first); number <= Number(last); number += 1) numbers.add(number);
  }
  return numbers;
}

interface LabelsProps {
  readonly id: string;
  readonly stock: Stock;
  readonly only: string;
  readonly skip: number;
  readonly lang: string;
}

function LabelsOf({ id, stock, only, skip, lang }: LabelsProps) {
  const w = useWords();
  const { papers: words } = w.desk;
  const property = useProperty(id);
  if (property.isPending) return <Loading />;
  if (property.isError) return <Trouble error={property.error} retry={() => void property.refetch()} />;
  const { tagged, untagged } = chosenOf(property.data, readNumbers(only) ?? undefined);
  if (tagged === 0)
    return (
      <Notice title={words.noTags}>
        <p>{words.noTagsRemedy(untagged)}</p>
      </Notice>
    );
  const grid = gridOf(stock);
  const sheets = grid === null ? null : Math.ceil((tagged + skip) / (grid.columns * grid.rows));
  const href = addressOf(`/api/reports/labels/${encodeURIComponent(id)}`, {
    stock,
    only,
    skip: skip === 0 ? '' : String(skip),
    lang,
  });
  return (
    <Outcome
      name={words.names.labels}
      holds={sheets === null ? words.holdsRoll(tagged) : words.holdsLabels(tagged, sheets)}
      files={[{ format: 'pdf', href }]}
    >
      {untagged > 0 && <p className="quiet">{words.untagged(untagged)}</p>}
      {grid !== null && <SheetSketch grid={grid} from={skip} count={tagged} />}
      <p className="quiet">{words.plainFirst}</p>
    </Outcome>
  );
}

function chosenOf({ stations }: PropertyAnswer, only: ReadonlySet<number> | undefined) {
  const chosen = stations.filter((one) => one.inService && (only?.has(one.number) ?? true));
  const tagged = chosen.filter(({ tag }) => tag !== null).length;
  return { tagged, untagged: chosen.length - tagged };
}

/** The first sheet with the places that get a label; the sentence above says the same. */
function SheetSketch({
  grid,
  from,
  count,
}: {
  readonly grid: Grid;
  readonly from: number;
  readonly count: number;
}) {
  const places = Array.from({ length: grid.columns * grid.rows }, (_, place) => place);
  return (
    <div
      className="label-sketch"
      aria-hidden="true"
      style={{ gridTemplateColumns: `repeat(${grid.columns}, 1fr)` }}
    >
      {places.map((place) => (
        <span
          key={place}
          className={place >= from && place < from + count ? 'label-place label-filled' : 'label-place'}
        />
      ))}
    </div>
  );
}
