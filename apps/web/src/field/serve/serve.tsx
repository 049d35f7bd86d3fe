import type { AnyFact, StationModel, StationSeenBody, StationState } from '@sillwatch/trade';
import { useState } from 'react';
import { firstLegal, isComplete, toApplication } from '../../shared/legal.ts';
import { useWords } from '../../words/index.ts';
import { Failure } from '../parts/failure.tsx';
import { Photos } from '../parts/photos.tsx';
import type { FieldProperty } from '../store/port.ts';
import { useWatched } from '../store/useWatched.ts';
import { useYard } from '../yard.tsx';
import { Answered } from './answered.tsx';
import { bodyOf, type Entry, verdictOf } from './entry.ts';
import { LegalForm } from './legalForm.tsx';
import { PartsCount } from './partsCount.tsx';
import { Questions } from './questions.tsx';
import { StepsCard } from './stepsCard.tsx';

interface Props {
  readonly property: FieldProperty & { readonly profile: NonNullable<FieldProperty['profile']> };
  /** As it stands before this look. */
  readonly state: StationState;
  readonly model: StationModel;
  readonly visit: string;
  readonly entry: Entry;
  readonly onChange: (entry: Entry) => void;
  readonly recordWords: string;
  /** Practice: the trainee decides before the steps; a correction asks no more. */
  readonly isFirst?: boolean;
  /** undefined = it may be recorded; else what is missing, said after the first try. */
  readonly missing?: string | undefined;
  readonly save: (body: StationSeenBody) => Promise<AnyFact>;
  readonly onSaved: (fact: AnyFact) => void;
}

/** Questions, then what the rules ask for, then the record: the same for a first look, a correction and the practice yard. */
export function Serve(props: Props) {
  const { property, state, model, visit, entry, onChange, missing, save, onSaved } = props;
  const { profile } = property;
  const w = useWords();
  const { store, Decide } = useYard();
  const me = useWatched(store.me);
  const firm = useWatched(store.firm);
  const [tried, setTried] = useState(false);
  const [isBusy, setBusy] = useState(false);
  const [error, setError] = useState<unknown>();
  const verdict = verdictOf(entry, { state, model, profile });
  const partName = (part: string): string => w.parts[part] ?? firm.partNames[part] ?? part;
  if (verdict === undefined)
    return (
      <>
        <Answered state={state} entry={entry} onChange={onChange} />
        <Questions state={state} entry={entry} onChange={onChange} />
      </>
    );

  const { followed } = verdict;
  const needsLegal = followed.baitGrams > 0;
  const structure = property.state.structures.find((one) => one.structure === state.structure)?.name ?? '';
  const legal =
    entry.legal ??
    firstLegal(
      {
        profile,
        grams: followed.baitGrams,
        station: state.number,
        structure,
        street: property.state.body?.address.street ?? '',
        me,
      },
      w,
    );
  const record = async () => {
    setTried(true);
    if (missing !== undefined || (needsLegal && !isComplete(legal, w))) return;
    setBusy(true);
    setError(undefined);
    try {
      onSaved(await save(bodyOf(entry, verdict, visit, needsLegal ? toApplication(legal) : null)));
    } catch (failure) {
      setError(failure);
      setBusy(false);
    }
  };
  const steps = (
    <>
      <StepsCard verdict={verdict} entry={entry} onChange={onChange} partName={partName} />
      {needsLegal && (
        <LegalForm legal={legal} tried={tried} onChange={(next) => onChange({ ...entry, legal: next })} />
      )}
      <section className="sheet">
        <PartsCount verdict={verdict} entry={entry} model={model} onChange={onChange} partName={partName} />
        <div className="field">
          <label htmlFor="note">{w.field.station.note}</label>
          <textarea
            id="note"
            rows={2}
            value={entry.note}
            onChange={(event) => onChange({ ...entry, note: event.target.value })}
          />
        </div>
        <Photos hashes={entry.photos} onChange={(photos) => onChange({ ...entry, photos })} />
      </section>
      <div className="yard-actions yard-actions-inline">
        <Failure error={error} />
        {tried && missing !== undefined && (
          <p role="alert" className="field-error">
            {missing}
          </p>
        )}
        <button
          type="button"
          className="button button-main thumb"
          disabled={isBusy}
          onClick={() => void record()}
        >
          {isBusy ? w.field.station.recording : props.recordWords}
        </button>
      </div>
    </>
  );
  return (
    <>
      <Answered state={state} entry={entry} onChange={onChange} />
      {Decide === undefined || props.isFirst !== true ? (
        steps
      ) : (
        <Decide asked={verdict.asked} visit={visit} station={state.station}>
          {steps}
        </Decide>
      )}
    </>
  );
}
