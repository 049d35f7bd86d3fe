import { type Application, isEpaRegistrationNumber } from '@sillwatch/trade';
import { type FormEvent, useState } from 'react';
import { useRecord } from '../../api/record.ts';
import { Field } from '../../shared/field.tsx';
import { Notice } from '../../shared/notice.tsx';
import { useWords, type Words } from '../../words/index.ts';
import type { StepsViewProps } from './stepsView.tsx';

const LEGAL = [
  'product',
  'registration',
  'grams',
  'location',
  'area',
  'site',
  'applicator',
  'certificate',
] as const;
type LegalName = (typeof LEGAL)[number];
type Legal = Readonly<Record<LegalName | 'supervised', string>>;

/** What was worked out above becomes a record, with the fields that the law asks for when bait goes in. */
export function RecordForm(props: StepsViewProps) {
  const w = useWords();
  const { me, finding, steps, onRecorded } = props;
  const [isOpen, setOpen] = useState(false);
  const [tried, setTried] = useState(false);
  const [note, setNote] = useState('');
  const [minutes, setMinutes] = useState('');
  const [legal, setLegal] = useState<Legal>(() => firstLegal(props, w));
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
  const isWhyMissing = finding.reach !== 'opened' && finding.why.trim() === '';
  const wrong = (name: LegalName) => (tried ? wrongWith(name, legal, w) : undefined);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    setTried(true);
    if (isWhyMissing || (needsLegal && LEGAL.some((name) => wrongWith(name, legal, w) !== undefined))) return;
    record.mutate(
      {
        ...props,
        note,
        minutes: minutes === '' ? null : Number(minutes),
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
            {LEGAL.map((name) => (
              <Field
                key={name}
                label={w.record[name]}
                required
                inputMode={name === 'grams' ? 'decimal' : 'text'}
                value={legal[name]}
                error={wrong(name)}
                onChange={(event) => setLegal({ ...legal, [name]: event.target.value })}
              />
            ))}
            <Field
              label={w.record.supervised}
              hint={w.record.supervisedHint}
              value={legal.supervised}
              onChange={(event) => setLegal({ ...legal, supervised: event.target.value })}
            />
          </div>
        </fieldset>
      )}
      <div className="record-row">
        <Field label={w.record.note} value={note} onChange={(event) => setNote(event.target.value)} />
        <Field
          label={w.record.minutes}
          inputMode="numeric"
          pattern="[0-9]*"
          value={minutes}
          onChange={(event) => setMinutes(event.target.value.replaceAll(/\D/g, ''))}
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

function firstLegal({ profile, steps, state, answer, me }: StepsViewProps, w: Words): Legal {
  const structure = answer.structures.find((one) => one.structure === state.structure)?.name ?? '';
  return {
    product: profile.product.name,
    registration: profile.product.epaRegistrationNumber,
    grams: String(steps.baitGrams),
    location: w.record.where(state.number, structure, answer.body?.address.street ?? ''),
    area: w.record.areaDefault,
    site: w.record.siteDefault,
    applicator: me.name,
    certificate: me.certificationNumber ?? '',
    supervised: '',
  };
}

function wrongWith(name: LegalName, legal: Legal, w: Words): string | undefined {
  const value = legal[name].trim();
  if (value === '') return w.record.required(w.record[name]);
  if (name === 'grams' && !(Number(value) > 0)) return w.record.notNumber(w.record.grams);
  if (name === 'registration' && !isEpaRegistrationNumber(value)) return w.record.notRegistration;
  return undefined;
}

function toApplication(legal: Legal): Application {
  return {
    productName: legal.product.trim(),
    epaRegistrationNumber: legal.registration.trim(),
    grams: Number(legal.grams),
    location: legal.location.trim(),
    areaTreated: legal.area.trim(),
    site: legal.site.trim(),
    applicatorName: legal.applicator.trim(),
    certificationNumber: legal.certificate.trim(),
    appliedUnderSupervisionBy: legal.supervised.trim() === '' ? null : legal.supervised.trim(),
  };
}
