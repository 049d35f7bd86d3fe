import type { AnyFact, FactBodies } from '@sillwatch/trade';
import { type FormEvent, useState } from 'react';
import { recordFact } from '../../api/office.ts';
import type { Me, PropertyAnswer } from '../../api/types.ts';
import { Choice } from '../../shared/choice.tsx';
import { ChangesAhead } from '../../shared/corrections.tsx';
import { Field } from '../../shared/field.tsx';
import type { Legal } from '../../shared/legal.ts';
import { LegalFields } from '../../shared/legalFields.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import type { Entry } from '../property/history.ts';
import { correctionOf, type Draft, type DraftFault, draftOf, noteKeyOf } from './correction.ts';
import { type Found, type FoundFault, firstFound, foundCorrectionOf, missingLegal } from './found.ts';
import { FoundFields } from './foundFields.tsx';
import { useFoundSource } from './useFoundSource.ts';
import {
  lackingIn,
  type RecordFault,
  recordChangesOf,
  recordCorrectionOf,
  recordedWith,
} from './useRecord.ts';

interface Props {
  readonly me: Me;
  readonly property: PropertyAnswer;
  /** All of the property: what a station held before a look is folded from them. */
  readonly facts: readonly AnyFact[];
  readonly entry: Entry;
  readonly onDone: () => void;
}

/** Corrects one entry: the old one stays, the reason stands beside it. */
export function CorrectionForm({ me, property, facts, entry, onDone }: Props) {
  const w = useWords();
  const days = useDays();
  const words = w.desk.entries;
  const { fact } = entry;
  const asked = useFoundSource(property, facts, entry);
  const source = asked.is === 'here' ? asked.source : undefined;
  const [draft, setDraft] = useState(() => draftOf(entry));
  const [changed, setFound] = useState<Found>();
  const [tried, setTried] = useState(false);
  const recorded = recordedWith(entry);
  const [legal, setLegal] = useState(recorded);
  const found = changed ?? (source === undefined ? undefined : firstFound(source));
  /** undefined while what is to be corrected is on its way */
  const result = ((): Result | undefined => {
    switch (draft.how) {
      case 'change':
      case 'withdraw':
        return correctionOf(entry, draft);
      case 'found':
        return source === undefined || found === undefined
          ? undefined
          : foundCorrectionOf(source, found, draft.why, w, days);
      case 'record':
        return legal === undefined ? undefined : recordCorrectionOf(entry, legal, draft.why, w, days);
    }
  })();
  const fault = tried && result?.ok === false ? result.fault : undefined;
  const lacking = (): readonly string[] => {
    if (draft.how === 'record') return legal === undefined ? [] : lackingIn(legal, w);
    return source === undefined || found === undefined ? [] : missingLegal(source, found, w);
  };
  const send = useSubmit(
    (body: FactBodies['fact corrected']) =>
      recordFact(me, { property: fact.property, station: fact.station }, 'fact corrected', body),
    onDone,
  );
  const submit = (event: FormEvent) => {
    event.preventDefault();
    setTried(true);
    if (result?.ok === true) send.mutate(result.body);
  };
  return (
    <form className="record" noValidate onSubmit={submit}>
      <Choice
        legend={words.how}
        options={[
          'change',
          ...(asked.is === 'not asked' ? [] : ['found' as const]),
          ...(recorded === undefined ? [] : ['record' as const]),
          'withdraw',
        ]}
        value={draft.how}
        onChoose={(how) => {
          setTried(false);
          setDraft({ ...draft, how });
        }}
        label={(how) => words.hows[how]}
        hint={(how) => words.howHints[how]}
      />
      {draft.how === 'change' && <DayAndNote entry={entry} draft={draft} onChange={setDraft} fault={fault} />}
      {draft.how === 'found' && asked.is === 'on its way' && <Loading />}
      {draft.how === 'found' && asked.is === 'failed' && <Trouble error={asked.error} retry={asked.retry} />}
      {draft.how === 'found' && source !== undefined && found !== undefined && (
        <FoundFields source={source} found={found} onChange={setFound} tried={tried} />
      )}
      {draft.how === 'record' && legal !== undefined && (
        <RecordFields entry={entry} legal={legal} onChange={setLegal} tried={tried} />
      )}
      <Field
        label={words.why}
        hint={words.whyHint}
        required
        value={draft.why}
        error={fault === 'needWhy' ? words.needWhy : undefined}
        onChange={(event) => setDraft({ ...draft, why: event.target.value })}
      />
      {fault !== undefined && draft.how !== 'change' && draft.how !== 'withdraw' && (
        <div role="alert">
          <Notice
            title={fault === 'needLegal' ? words.needLegal(lacking().join(', ')) : words[fault]}
            tone="late"
          />
        </div>
      )}
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

type Fault = DraftFault | FoundFault | RecordFault;

type Result =
  | { readonly ok: true; readonly body: FactBodies['fact corrected'] }
  | { readonly ok: false; readonly fault: Fault };

interface RecordFieldsProps {
  readonly entry: Entry;
  readonly legal: Legal;
  readonly onChange: (legal: Legal) => void;
  readonly tried: boolean;
}

/** The use record of the bait that a station was set with. */
function RecordFields({ entry, legal, onChange, tried }: RecordFieldsProps) {
  const w = useWords();
  const days = useDays();
  const changes = recordChangesOf(entry, legal, w, days);
  return (
    <>
      <fieldset className="record-legal">
        <legend>{w.desk.entries.legal}</legend>
        <div className="record-row">
          <LegalFields legal={legal} tried={tried} onChange={onChange} />
        </div>
      </fieldset>
      {changes.length > 0 && <ChangesAhead changes={changes} />}
    </>
  );
}

interface DayAndNoteProps {
  readonly entry: Entry;
  readonly draft: Draft;
  readonly onChange: (draft: Draft) => void;
  readonly fault: Fault | undefined;
}

function DayAndNote({ entry, draft, onChange, fault }: DayAndNoteProps) {
  const words = useWords().desk.entries;
  return (
    <div className="record-row">
      <Field
        label={words.day}
        type="date"
        value={draft.day}
        error={fault === 'needDay' || fault === 'needChange' ? words[fault] : undefined}
        onChange={(event) => onChange({ ...draft, day: event.target.value })}
      />
      {noteKeyOf(entry.fact.kind) !== undefined && (
        <Field
          label={words.note}
          value={draft.note}
          onChange={(event) => onChange({ ...draft, note: event.target.value })}
        />
      )}
    </div>
  );
}
