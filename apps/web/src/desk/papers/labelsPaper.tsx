import { type ReactNode, useState } from 'react';
import { useProperty } from '../../api/queries.ts';
import type { Me, PropertyAnswer } from '../../api/types.ts';
import { Choice } from '../../shared/choice.tsx';
import { readCount } from '../../shared/decimal.ts';
import { Field } from '../../shared/field.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { LanguageOfPaper, usePaperLanguage } from '../../shared/paperLanguage.tsx';
import { Select } from '../../shared/select.tsx';
import { useWords } from '../../words/index.ts';
import { LabelMeasures } from './labelMeasures.tsx';
import {
  endsOfTags,
  type Grid,
  gridOf,
  gridOfOwn,
  keepStock,
  readKeptStock,
  readStock,
  STOCKS,
  type StockName,
} from './labelStock.ts';
import { addressOf, Outcome } from './outcome.tsx';
import { PropertyChoice } from './propertyChoice.tsx';

const SUBJECTS = ['stations', 'new tags'] as const;
type Subject = (typeof SUBJECTS)[number];
const OWN = 'own';
const MOST_NEW = 2000;

/** What the labels are printed on, and how much of the first sheet is used up. */
interface Print {
  /** a name, or measures as the API takes them */
  readonly stock: StockName | Readonly<Record<string, string | number>>;
  readonly grid: Grid | null;
  readonly skip: number;
  readonly lang: string;
}

/** Labels with codes for tags, on the sheet that is in the printer: of a property's stations, or new ones. */
export function LabelsPaper({ me }: { readonly me: Me }) {
  const w = useWords();
  const { papers: words } = w.desk;
  const mayMakeNew = me.role === 'owner' || me.role === 'lead';
  const [lang, setLang] = usePaperLanguage();
  const [subject, setSubject] = useState<Subject>('stations');
  const [id, setId] = useState('');
  const [only, setOnly] = useState('');
  const [prefix, setPrefix] = useState('');
  const [start, setStart] = useState('0001');
  const [count, setCount] = useState('30');
  const [name, setName] = useState<StockName | typeof OWN>('letter 3x10');
  const [own, setOwn] = useState(readKeptStock);
  const [first, setFirst] = useState('1');
  const grid = name === OWN ? gridOfOwn(own) : gridOf(name);
  const stock = name === OWN ? readStock(own) : name;
  const place = Number(first);
  const isPlace =
    grid === null || (Number.isInteger(place) && place >= 1 && place <= grid.columns * grid.rows);
  const tags = readTags(prefix, start, count);
  const print: Print | undefined =
    stock === undefined || !isPlace ? undefined : { stock, grid, skip: grid === null ? 0 : place - 1, lang };
  const stockOptions: readonly (readonly [StockName | typeof OWN, string])[] = [
    ...STOCKS.map((one) => [one, stockInWords(one, words)] as const),
    ...(mayMakeNew ? [[OWN, words.ownStock] as const] : []),
  ];
  return (
    <>
      <div className="sheet form">
        {mayMakeNew && (
          <Choice
            legend={words.labelsFor}
            options={SUBJECTS}
            value={subject}
            onChoose={setSubject}
            label={(one) => words.labelsOf[one]}
            compact
          />
        )}
        <div className="form-columns">
          {subject === 'stations' ? (
            <>
              <PropertyChoice value={id} onPick={setId} />
              <Field
                label={words.only}
                hint={words.onlyHint}
                value={only}
                error={readNumbers(only) === null ? words.onlyWrong : undefined}
                onChange={(event) => setOnly(event.target.value)}
              />
            </>
          ) : (
            <>
              <Field
                label={words.prefix}
                hint={words.prefixHint}
                value={prefix}
                autoComplete="off"
                error={tags.prefix ? undefined : words.prefixWrong}
                onChange={(event) => setPrefix(event.target.value)}
              />
              <Field
                label={words.firstTag}
                hint={words.firstTagHint}
                inputMode="numeric"
                value={start}
                error={tags.start ? undefined : words.firstTagWrong}
                onChange={(event) => setStart(event.target.value)}
              />
              <Field
                label={words.count}
                inputMode="numeric"
                value={count}
                error={tags.count === undefined ? words.countWrong : undefined}
                onChange={(event) => setCount(event.target.value)}
              />
            </>
          )}
          <Select
            label={words.stock}
            value={name}
            options={stockOptions}
            onPick={(picked) => setName(stockOptions.find(([one]) => one === picked)?.[0] ?? 'letter 3x10')}
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
        {name === OWN && (
          <LabelMeasures
            value={own}
            onChange={(next) => {
              setOwn(next);
              keepStock(next);
            }}
          />
        )}
      </div>
      {name === OWN && stock === undefined && (subject === 'new tags' || id !== '') && (
        <p className="quiet">{words.measuresLack}</p>
      )}
      {subject === 'stations' && id !== '' && print !== undefined && readNumbers(only) !== null && (
        <LabelsOf id={id} only={only} print={print} />
      )}
      {subject === 'new tags' &&
        print !== undefined &&
        tags.prefix &&
        tags.start &&
        tags.count !== undefined && (
          <NewLabels prefix={prefix.trim()} first={start.trim()} count={tags.count} print={print} />
        )}
    </>
  );
}

function stockInWords(
  stock: StockName,
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

/** Which of the three answers can be read, and how many are wanted. */
function readTags(prefix: string, start: string, count: string) {
  const wanted = readCount(count);
  return {
    prefix: prefix.trim().length <= 20,
    start: /^\d{1,12}$/.test(start.trim()),
    count: wanted !== undefined && wanted >= 1 && wanted <= MOST_NEW ? wanted : undefined,
  };
}

interface LabelsProps {
  readonly id: string;
  readonly only: string;
  readonly print: Print;
}

function LabelsOf({ id, only, print }: LabelsProps) {
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
  const { stock, skip, lang } = print;
  const asked = only.trim();
  const file =
    typeof stock === 'string'
      ? {
          href: addressOf(`/api/reports/labels/${encodeURIComponent(id)}`, {
            stock,
            only: asked,
            skip: skip === 0 ? '' : String(skip),
            lang,
          }),
        }
      : {
          href: '/api/reports/labels',
          body: { property: id, ...(asked === '' ? {} : { only: asked }), stock, skip, lang },
        };
  return (
    <LabelsOutcome count={tagged} print={print} file={file}>
      {untagged > 0 && <p className="quiet">{words.untagged(untagged)}</p>}
    </LabelsOutcome>
  );
}

interface NewLabelsProps {
  readonly prefix: string;
  readonly first: string;
  readonly count: number;
  readonly print: Print;
}

function NewLabels({ prefix, first, count, print }: NewLabelsProps) {
  const { papers: words } = useWords().desk;
  const { stock, skip, lang } = print;
  return (
    <LabelsOutcome
      count={count}
      print={print}
      file={{ href: '/api/reports/labels', body: { prefix, first, count, stock, skip, lang } }}
    >
      <p>{words.newTags(...endsOfTags(prefix, first, count))}</p>
      <p className="quiet">{words.newTagsHow}</p>
    </LabelsOutcome>
  );
}

interface LabelsOutcomeProps {
  readonly count: number;
  readonly print: Print;
  readonly file: { readonly href: string; readonly body?: unknown };
  readonly children: ReactNode;
}

function LabelsOutcome({ count, print: { grid, skip }, file, children }: LabelsOutcomeProps) {
  const { papers: words } = useWords().desk;
  const sheets = grid === null ? null : Math.ceil((count + skip) / (grid.columns * grid.rows));
  return (
    <Outcome
      name={words.names.labels}
      holds={sheets === null ? words.holdsRoll(count) : words.holdsLabels(count, sheets)}
      files={[{ format: 'pdf', ...file }]}
    >
      {children}
      {grid !== null && <SheetSketch grid={grid} from={skip} count={count} />}
      <p className="quiet">{words.plainFirst}</p>
    </Outcome>
  );
}

function chosenOf({ stations }: PropertyAnswer, only: ReadonlySet<number> | undefined) {
  const chosen = stations.filter((one) => one.inService && (only?.has(one.number) ?? true));
  const tagged = chosen.filter(({ tag }) => tag !== null).length;
  return { tagged, untagged: chosen.length - tagged };
}

interface SheetSketchProps {
  readonly grid: Grid;
  readonly from: number;
  readonly count: number;
}

/** The first sheet with the places that get a label; the sentence above says the same. */
function SheetSketch({ grid, from, count }: SheetSketchProps) {
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
