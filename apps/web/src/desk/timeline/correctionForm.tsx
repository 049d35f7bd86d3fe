import { type FormEvent, useState } from 'react';
import { recordFact } from '../../api/office.ts';
import type { Me } from '../../api/types.ts';
import { Choice } from '../../shared/choice.tsx';
import { Field } from '../../shared/field.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';
import type { Entry } from '../property/history.ts';
import { correctionOf, draftOf, type How, noteKeyOf } from './correction.ts';

interface Props {
  readonly me: Me;
  readonly entry: Entry;
  readonly onDone: () => void;
}

const HOWS: readonly How[] = ['change', 'withdraw'];

/** Corrects one entry: the old one stays, the reason stands beside it. */
export function CorrectionForm({ me, entry, onDone }: Props) {
  const w = useWords();
  const words = w.desk.entries;
  const [draft, setDraft] = useState(() => draftOf(entry));
  const [tried, setTried] = useState(false);
  const { fact } = entry;
  const result = correctionOf(entry, draft);
  const fault = tried && !result.ok ? result.fault : undefined;
  const send = useSubmit(
    (body: Parameters<typeof recordFact<'fact corrected'>>[3]) =>
      recordFact(me, { property: fact.property, station: fact.station }, 'fact corrected', body),
    onDone,
  );
  const submit = (event: FormEvent) => {
    event.preventDefault();
    setTried(true);
    if (result.ok) send.mutate(result.body);
  };
  return (
    <form className="record" noValidate onSubmit={submit}>
      <Choice
        legend={words.how}
        options={HOWS}
        value={draft.how}
        onChoose={(how) => setDraft({ ...draft, how })}
        label={(how) => words.hows[how]}
        hint={(how) => words.howHints[how]}
      />
      {draft.how === 'change' && (
        <div className="record-row">
          <Field
            label={words.day}
            type="date"
            value={draft.day}
            error={fault === 'needDay' || fault === 'needChange' ? words[fault] : undefined}
            onChange={(event) => setDraft({ ...draft, day: event.target.value })}
          />
          {noteKeyOf(fact.kind) !== undefined && (
            <Field
              label={words.note}
              value={draft.note}
              onChange={(event) => setDraft({ ...draft, note: event.target.value })}
            />
          )}
        </div>
      )}
      <Field
        label={words.why}
        hint={words.whyHint}
        required
        value={draft.why}
        error={fault === 'needWhy' ? words.needWhy : undefined}
        onChange={(event) => setDraft({ ...draft, why: event.target.value })}
      />
      <Refusal error={send.error} />
      <div className="record-go">
        <button type="submit" className="button button-main" disabled={send.isPending}>
          {words.save}
        </button>
        <button type="button" className="button" onClick={onDone}>
          {words.leave}
        </button>
      </div>
    </form>
  );
}
