import { useState } from 'react';
import { postForm } from '../../api/client.ts';
import { DataTable } from '../../shared/dataTable.tsx';
import { Notice } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { useOwnLanguage } from '../../shared/paperLanguage.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';
import { ImportColumns } from './importColumns.tsx';
import { ToOffice } from './officePage.tsx';
import { PastImports, TakeBack } from './pastImports.tsx';

export interface ImportAnswer {
  readonly dryRun: boolean;
  readonly stored: number;
  readonly planned: number;
  readonly summary: Readonly<
    Record<
      | 'rows'
      | 'newProperties'
      | 'changedProperties'
      | 'newStations'
      | 'changedStations'
      | 'newLooks'
      | 'knownRows',
      number
    >
  >;
  readonly problems: readonly {
    readonly file: string;
    readonly sheet: string;
    readonly row: number;
    readonly column: string;
    readonly value: string;
    readonly reason: string;
    readonly remedy: string;
  }[];
  readonly problemCount: number;
  readonly mapping: Mapping;
  readonly columns: readonly {
    readonly file: string;
    readonly sheet: string;
    readonly column: string;
    readonly field: string | null;
    readonly confidence: number;
    readonly sample: string;
  }[];
  readonly warnings: readonly string[];
  /** by which it can be taken back; null where nothing was stored */
  readonly id: string | null;
}

/** How the columns are read; the server writes the first one, the office mends it. */
export interface Mapping {
  readonly sheets: readonly {
    readonly file: string;
    readonly sheet: string;
    readonly columns: Readonly<Record<string, string>>;
  }[];
  readonly dateOrder: string;
  readonly defaults: Readonly<Record<string, string>>;
}

/** Takes over what is in sheets: drop, see how it was understood, mend, see what would be written, write. */
export function ImportPage() {
  const w = useWords();
  const [files, setFiles] = useState<readonly File[]>([]);
  const [mapping, setMapping] = useState<Mapping | undefined>();
  const lang = useOwnLanguage();
  const send = async (dryRun: boolean): Promise<ImportAnswer> => {
    const form = new FormData();
    for (const file of files) form.append('file', file, file.name);
    if (mapping !== undefined) form.append('mapping', JSON.stringify(mapping));
    return postForm<ImportAnswer>(`/api/imports?dryRun=${dryRun}&lang=${lang}`, form);
  };
  const look = useSubmit(
    () => send(true),
    (answer) => setMapping(answer.mapping),
  );
  const write = useSubmit(() => send(false));
  const choose = (chosen: readonly File[]): void => {
    setFiles(chosen);
    setMapping(undefined);
    look.reset();
    write.reset();
  };
  const seen = look.data;
  return (
    <Page title={w.desk.office.places.import} eyebrow={<ToOffice />}>
      <p className="quiet">{w.desk.imports.lead}</p>
      <DropPlace files={files} onChoose={choose} />
      {files.length > 0 && (
        <div className="buttons">
          <button
            type="button"
            className="button button-main"
            disabled={look.isPending}
            onClick={() => look.mutate(undefined)}
          >
            {look.isPending ? w.desk.imports.looking : w.desk.imports.look}
          </button>
        </div>
      )}
      <Refusal error={look.error} />
      {seen !== undefined && mapping !== undefined && (
        <>
          {seen.warnings.map((warning) => (
            <Notice key={warning} title={warning} tone="open" />
          ))}
          <ImportColumns columns={seen.columns} mapping={mapping} onChange={setMapping} />
          <p className="quiet">{w.desk.imports.lookAgain}</p>
          <Outcome answer={seen} />
          <Refusal error={write.error} />
          {write.data === undefined ? (
            <div className="buttons">
              <button
                type="button"
                className="button button-main"
                disabled={
                  write.isPending || seen.problemCount > 0 || seen.planned === 0 || mapping !== seen.mapping
                }
                onClick={() => write.mutate(undefined)}
              >
                {write.isPending ? w.desk.imports.writing : w.desk.imports.write(seen.planned)}
              </button>
            </div>
          ) : (
            <div role="status">
              <Notice title={w.desk.imports.written(write.data.stored)}>
                <p>{w.desk.imports.writtenMore}</p>
              </Notice>
              {write.data.id !== null && <TakeBack id={write.data.id} name={w.desk.imports.past.justNow} />}
            </div>
          )}
        </>
      )}
      <PastImports />
    </Page>
  );
}

function DropPlace({
  files,
  onChoose,
}: {
  readonly files: readonly File[];
  readonly onChoose: (files: readonly File[]) => void;
}) {
  const w = useWords();
  const [over, setOver] = useState(false);
  return (
    <label
      className={over ? 'drop drop-over' : 'drop'}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        event.preventDefault();
        setOver(false);
        onChoose([...event.dataTransfer.files]);
      }}
    >
      <span className="due-name">
        {files.length === 0 ? w.desk.imports.drop : files.map(({ name }) => name).join(', ')}
      </span>
      <span className="quiet small">{w.desk.imports.kinds}</span>
      <span className="button">
        {files.length === 0 ? w.desk.imports.choose : w.desk.imports.chooseOthers}
      </span>
      <input
        type="file"
        className="hidden-words"
        multiple
        accept=".csv,.tsv,.txt,.xlsx"
        onChange={(event) => onChoose([...(event.target.files ?? [])])}
      />
    </label>
  );
}

/** What would be written, and each cell that keeps it from being written. */
function Outcome({ answer }: { readonly answer: ImportAnswer }) {
  const w = useWords();
  const { summary, problems, problemCount } = answer;
  return (
    <section className="sheet">
      <h2>{problemCount > 0 ? w.desk.imports.problems(problemCount) : w.desk.imports.ready}</h2>
      <p>{w.desk.imports.summary(summary)}</p>
      {problems.length > 0 && (
        <DataTable
          label={w.desk.imports.problems(problemCount)}
          heads={w.desk.imports.problemHeads}
          rows={problems.slice(0, 200).map(({ file, sheet, row, column, value, reason, remedy }) => ({
            key: `${file} ${sheet} ${row} ${column}`,
            cells: [
              `${file}${sheet === '' ? '' : `, ${sheet}`}, ${row}`,
              column,
              value,
              `${reason}. ${remedy}`,
            ],
          }))}
          named={false}
        />
      )}
    </section>
  );
}
