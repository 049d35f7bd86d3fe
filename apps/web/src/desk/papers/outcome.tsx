import { useMutation } from '@tanstack/react-query';
import { type ReactNode, useState } from 'react';
import { getFile } from '../../api/client.ts';
import { saveFile } from '../../shared/saveFile.ts';
import { Refusal } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';

/** By its format; the address of the API, and what is sent there where that says what is wanted. */
interface PaperFile {
  readonly format: 'pdf' | 'csv' | 'zip' | 'html';
  readonly href: string;
  readonly body?: unknown;
}

interface Props {
  /** What the paper will hold, in words; null = it cannot be made yet, and `children` says why. */
  readonly holds: string | null;
  readonly files: readonly PaperFile[];
  /** Address of a page to look at on the screen; absent = too long, or not a page. */
  readonly preview?: string | undefined;
  readonly name: string;
  readonly children?: ReactNode;
}

/** What a choice came to: what it holds, its files, and how it looks. */
export function Outcome({ holds, files, preview, name, children }: Props) {
  const w = useWords();
  const [shown, setShown] = useState('');
  const taken = useMutation({
    mutationFn: ({ href, body }: PaperFile) => getFile(href, body),
    onSuccess: (answer) => saveFile(answer.name, answer.file),
  });
  return (
    <section className="sheet paper-outcome" aria-label={name}>
      <p role="status" className="summary">
        {holds}
      </p>
      {children}
      {holds !== null && (
        <div className="buttons">
          {files.map((file, index) => {
            const { format, href, body } = file;
            const className = index === 0 ? 'button button-main' : 'button';
            const take = () => {
              if (!taken.isPending) taken.mutate(file);
            };
            return body !== undefined ? (
              <button key={format} type="button" className={className} onClick={take}>
                {w.desk.papers.get[format]}
              </button>
            ) : (
              <a
                key={format}
                href={href}
                className={className}
                {...(format === 'html'
                  ? { target: '_blank', rel: 'noreferrer' }
                  : {
                      download: '',
                      onClick: (press) => {
                        press.preventDefault();
                        take();
                      },
                    })}
              >
                {w.desk.papers.get[format]}
              </a>
            );
          })}
          {preview !== undefined && shown !== preview && (
            <button type="button" className="button" onClick={() => setShown(preview)}>
              {w.desk.papers.look}
            </button>
          )}
        </div>
      )}
      <p role="status" className="quiet">
        {taken.isPending ? w.desk.papers.beingWritten : ''}
      </p>
      <Refusal error={files.some((file) => isSameFile(file, taken.variables)) ? taken.error : null} />
      {holds !== null && preview !== undefined && shown === preview && (
        <iframe className="paper-preview" src={preview} title={w.desk.papers.preview(name)} />
      )}
    </section>
  );
}

function isSameFile(file: PaperFile, asked: PaperFile | undefined): boolean {
  return file.href === asked?.href && JSON.stringify(file.body) === JSON.stringify(asked.body);
}

/** An address with what was filled in; empty answers are left out. */
export function addressOf(path: string, asked: Readonly<Record<string, string>>): string {
  const query = new URLSearchParams(Object.entries(asked).filter(([, value]) => value.trim() !== ''));
  return `${path}?${query.toString()}`;
}
