import { useState } from 'react';
import { factWords } from '../../shared/factWords.ts';
import { recordRefusalWords } from '../../shared/recordRefusal.ts';
import { saveFile } from '../../shared/saveFile.ts';
import { useWords } from '../../words/index.ts';
import type { RefusedFact } from '../store/port.ts';
import { useWatched } from '../store/useWatched.ts';
import { useStore } from '../yard.tsx';

/** The tray: what the server would not take, with its reason; nothing leaves it by itself. */
export function Refused() {
  const w = useWords();
  const store = useStore();
  const refused = useWatched(store.refused);
  const sync = useWatched(store.sync);
  const reports = useWatched(store.reports);
  const names = new Map(useWatched(store.properties).map(({ property, name }) => [property, name]));
  const save = async () => saveFile('sillwatch-unsent.json', await store.exportUnsent());
  return (
    <>
      {refused.length > 0 && (
        <section className="sheet" aria-labelledby="refused-title">
          <h2 id="refused-title">{w.field.phone.refused}</h2>
          <p className="quiet">{w.field.phone.refusedLead}</p>
          <ul className="refused">
            {refused.map((one) => (
              <Row key={one.fact.id} refused={one} />
            ))}
          </ul>
          <button
            type="button"
            className="button"
            onClick={() => void store.sendAgain(refused.map(({ fact }) => fact.id))}
          >
            {w.field.phone.sendAgain}
          </button>
        </section>
      )}
      {reports.length > 0 && (
        <section className="sheet" aria-labelledby="reports-title">
          <h2 id="reports-title">{w.field.phone.reports}</h2>
          <ul className="refused">
            {reports.map(({ visit, property, refusal }) => (
              <li key={visit}>
                <p>
                  {names.get(property) ?? property}: {refusal === null ? w.field.phone.reportWaits : refusal}
                </p>
                {refusal !== null && (
                  <button type="button" className="button" onClick={() => void store.dropReport(visit)}>
                    {w.field.phone.reportDrop}
                  </button>
                )}
              </li>
            ))}
          </ul>
        </section>
      )}
      {(refused.length > 0 || sync.waiting > 0 || sync.photosWaiting > 0) && (
        <section className="sheet">
          <p className="quiet">{w.field.phone.exportLead}</p>
          <button type="button" className="button" onClick={() => void save()}>
            {w.field.phone.export}
          </button>
        </section>
      )}
    </>
  );
}

function Row({ refused: { fact, code, detail } }: { readonly refused: RefusedFact }) {
  const w = useWords();
  const store = useStore();
  const [isAsking, setAsking] = useState(false);
  return (
    <li>
      <p>{factWords(fact.kind, fact.body, w)}</p>
      <p className="field-error">{recordRefusalWords(code, detail, w)}</p>
      {isAsking ? (
        <>
          <p>{w.field.phone.setAsideSure}</p>
          <button type="button" className="button" onClick={() => void store.setAside(fact.id)}>
            {w.field.phone.setAside}
          </button>
        </>
      ) : (
        <button type="button" className="button" onClick={() => setAsking(true)}>
          {w.field.phone.setAside}
        </button>
      )}
    </li>
  );
}
