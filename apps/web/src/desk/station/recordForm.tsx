import { type FormEvent, useState } from 'react';
import { useRecord } from '../../api/record.ts';
import { readCount } from '../../shared/decimal.ts';
import { Field } from '../../shared/field.tsx';
import { firstLegal, isComplete, type Legal, toApplication } from '../../shared/legal.ts';
import { LegalFields } from '../../shared/legalFields.tsx';
import { Notice } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import type { StepsViewProps } from './stepsView.tsx';

/** What was worked out above becomes a record, with the fields that the law asks for when bait goes in. */
export function RecordForm(props: StepsViewProps) {
  const w = useWords();
  const { me, finding, steps, onRecorded } = props;
  const [isOpen, setOpen] = useState(false);
  const [tried, setTried] = useState(false);
  const [note, setNote] = useState('');
  const [minutes, setMinutes] = useState('');
  const [legal, setLegal] = useState<Legal>(() =>
    firstLegal(
      {
        profile: props.profile,
        grams: steps.baitGrams,
        station: props.state.number,
        structure: props.answer.structures.find((one) => one.structure === props.state.structure)?.name ?? '',
        street: props.answer.body?.address.street ?? '',
        me,
      },
      w,
    ),
  );
  const record = useRecord();
  if (me.role === 'inspector') return <p className="quiet small">{w.record.reader}</p>;
  if (!isOpen)
    return (
      <div className="record-go">
        <button type="button" className="button" onClick={() => setOpen(true)}>
          {w.record.open}
        </button>
        <p className="quiet small">{w.now.nothingRecorded}</p>
      </div>
    );

  const needsLegal = steps.baitGrams > 0;
  const isMinutesWrong = minutes.trim() !== '' && readCount(minutes) === undefined;
  const isWhyMissing = finding.reach !== 'opened' && finding.why.trim() === '';
  const submit = (event: FormEvent) => {
    event.preventDefault();
    setTried(true);
    if (isWhyMissing || isMinutesWrong || (needsLegal && !isComplete(legal, w))) return;
    record.mutate(
      {
        ...props,
        note,
        minutes: readCount(minutes) ?? null,
        application: needsLegal ? toApplication(legal) : null,
      },
      { onSuccess: (refusals) => refusals.length === 0 && onRecorded() },
    );
  };
  const refusals = record.data ?? [];
  return (
    <form className="record" noValidate onSubmit={submit}>
      <p className="quiet">{w.record.lead}</p>
      {needsLegal && (
        <fieldset className="record-legal">
          <legend>{w.record.legal}</legend>
          <div className="record-row">
            <LegalFields legal={legal} tried={tried} onChange={setLegal} />
          </div>
        </fieldset>
      )}
      <div className="record-row">
        <Field label={w.record.note} value={note} onChange={(event) => setNote(event.target.value)} />
        <Field
          label={w.record.minutes}
          inputMode="numeric"
          value={minutes}
          error={tried && isMinutesWrong ? w.decimal.notCount : undefined}
          onChange={(event) => setMinutes(event.target.value)}
        />
      </div>
      {tried && isWhyMissing && (
        <div role="alert">
          <Notice title={w.record.needWhy} tone="late" />
        </div>
      )}
      {(record.isError || refusals.length > 0) && (
        <div role="alert">
          <Notice title={record.isError ? w.record.failed : w.record.refused} tone="late">
            {record.isError && <p>{record.error.message}</p>}
            {refusals.map(({ id, detail }) => (
              <p key={id}>{detail}</p>
            ))}
          </Notice>
        </div>
      )}
      <div className="record-go">
        <button type="submit" className="button button-main" disabled={record.isPending}>
          {record.isPending ? w.record.busy : w.record.go}
        </button>
        <button type="button" className="button" onClick={() => setOpen(false)}>
          {w.record.cancel}
        </button>
      </div>
    </form>
  );
}
