import { useState } from 'react';
import { Notice } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import { type HandedIn, handIn } from '../sync/handIn.ts';
import { createLine } from '../sync/line.ts';

/** The way back for a file of records that a phone could not send: pictures and all. */
export function HandIn() {
  const w = useWords();
  const p = w.field.phone;
  const [answer, setAnswer] = useState<HandedIn | 'busy'>();
  const take = async (file: File | undefined) => {
    if (file === undefined) return;
    setAnswer('busy');
    setAnswer(
      await handIn(
        await file.text(),
        createLine((path, init) => fetch(path, init)),
      ),
    );
  };
  return (
    <details className="sheet">
      <summary>{p.handIn}</summary>
      <p className="quiet">{p.handInLead}</p>
      {/* The browser's own button speaks the browser's language, and is too small for a glove. */}
      <label className="button photo-take">
        <input
          type="file"
          accept="application/json,.json"
          disabled={answer === 'busy'}
          onChange={({ currentTarget }) => void take(currentTarget.files?.[0])}
        />
        {p.handInFile}
      </label>
      <div role="status">
        {answer === 'busy' && <p>{w.field.sync.sending}</p>}
        {answer !== undefined && answer !== 'busy' && <Answer answer={answer} />}
      </div>
    </details>
  );
}

function Answer({ answer }: { readonly answer: HandedIn }) {
  const w = useWords();
  const p = w.field.phone;
  switch (answer.is) {
    case 'no such file':
      return <Notice title={p.handInWrong} tone="open" />;
    case 'other firm':
      return <Notice title={p.handInOther} tone="open" />;
    case 'stopped':
      return <Notice title={w.field.sync.problem[answer.problem]} tone="open" />;
    case 'done':
      return (
        <Notice title={p.handInDone(answer.taken, answer.known, answer.photos)}>
          {answer.photosRefused > 0 && <p>{p.handInPhotos(answer.photosRefused)}</p>}
          {answer.refused.length > 0 && (
            <ul>
              {answer.refused.map(({ id, detail }) => (
                <li key={id}>{detail}</li>
              ))}
            </ul>
          )}
        </Notice>
      );
  }
}
