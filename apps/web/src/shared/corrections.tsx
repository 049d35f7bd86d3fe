import type { Entry, EntryCorrection } from '../desk/property/history.ts';
import { useDays } from '../words/days.ts';
import { useWords } from '../words/index.ts';
import { type Change, listChanges } from './changes.ts';

type Say = (body: unknown) => string;

/** Every correction of an entry with its reason, and what it said before beside what it says since. */
export function Corrections({
  entry: { fact, corrections },
  say,
}: {
  readonly entry: Entry;
  readonly say: Say;
}) {
  return corrections.map((correction) => (
    <CorrectionView key={correction.fact.id} kind={fact.kind} correction={correction} say={say} />
  ));
}

function CorrectionView({
  kind,
  correction: { why, before, after },
  say,
}: {
  readonly kind: string;
  readonly correction: EntryCorrection;
  readonly say: Say;
}) {
  const w = useWords();
  const days = useDays();
  const changes = listChanges(kind, before, after, w, days);
  // Withdrawn, or said anew in ways that have no line of their own.
  const isSaidWhole = before.body !== null && before.body !== after.body && changes.length === 0;
  return (
    <div className="entry-correction small">
      <p>
        <strong>{w.station.corrected}</strong> {w.station.because(why)}
      </p>
      {changes.length > 0 && <Changes changes={changes} />}
      {isSaidWhole && (
        <p className="quiet">
          {w.station.was}: {say(before.body)}
        </p>
      )}
    </div>
  );
}

/** What a form would change, before it is sent. */
export function ChangesAhead({ changes }: { readonly changes: readonly Change[] }) {
  const w = useWords();
  return (
    <section aria-label={w.changes.title} className="changes-ahead">
      <p className="changes-title">{w.changes.title}</p>
      <Changes changes={changes} />
    </section>
  );
}

/** Old beside new, one thing a line. */
function Changes({ changes }: { readonly changes: readonly Change[] }) {
  const w = useWords();
  return (
    <dl className="changes">
      {changes.map(({ label, was, now }) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd>
            <span className="changes-was">{w.changes.was(was)}</span>{' '}
            <span className="changes-now">{w.changes.now(now)}</span>
          </dd>
        </div>
      ))}
    </dl>
  );
}
