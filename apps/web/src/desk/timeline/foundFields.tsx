import { baitSlotsOf, HOUSING_CONDITIONS, OCCUPANTS, REACHES } from '@sillwatch/trade';
import { Choice } from '../../shared/choice.tsx';
import { ChangesAhead } from '../../shared/corrections.tsx';
import { Field } from '../../shared/field.tsx';
import { LegalFields } from '../../shared/legalFields.tsx';
import { Notice } from '../../shared/notice.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import type { Answers } from '../station/answers.ts';
import {
  changesOf,
  type Found,
  type FoundSource,
  foundOptions,
  legalOf,
  needsRecord,
  slotsForBait,
} from './found.ts';

interface Props {
  readonly source: FoundSource;
  readonly found: Found;
  readonly onChange: (found: Found) => void;
  /** True once recording was tried: what is missing is said. */
  readonly tried: boolean;
}

/** What was found at a station and the bait that went in, put right from the desk. */
export function FoundFields({ source, found, onChange, tried }: Props) {
  const w = useWords();
  const days = useDays();
  const words = w.desk.entries;
  const { answers } = found;
  const change = (part: Partial<Answers>) => onChange({ ...found, answers: { ...answers, ...part } });
  const changes = changesOf(source, found, w, days);
  return (
    <>
      <Choice
        legend={w.changes.labels.reach}
        options={REACHES}
        value={answers.reach}
        onChoose={(reach) => change({ reach })}
        label={(option) => w.reaches[option]}
        compact
      />
      {answers.reach === 'opened' ? (
        <>
          <Opened source={source} answers={answers} change={change} />
          <Bait source={source} found={found} onChange={onChange} tried={tried} />
        </>
      ) : (
        <>
          <Field
            label={w.changes.labels.why}
            hint={w.now.whyHint}
            required
            value={answers.why}
            error={tried && answers.why.trim() === '' ? words.needWhyNot : undefined}
            onChange={(event) => change({ why: event.target.value })}
          />
          {source.body.finding.reach === 'opened' && <Notice title={words.nobodyOpened} tone="open" />}
        </>
      )}
      {changes.length > 0 && <ChangesAhead changes={changes} />}
    </>
  );
}

interface OpenedProps {
  readonly source: FoundSource;
  readonly answers: Answers;
  readonly change: (part: Partial<Answers>) => void;
}

function Opened({ source, answers, change }: OpenedProps) {
  const w = useWords();
  const { labels } = w.changes;
  const options = foundOptions(source);
  return (
    <>
      <Choice
        legend={labels.termites}
        options={options.termites}
        value={answers.termites}
        onChoose={(termites) => change({ termites })}
        label={(option) => w.termites[option]}
        hint={(option) => w.termitesHint[option]}
        compact
      />
      {options.baitLeft.length > 1 && (
        <Choice
          legend={labels.baitLeft}
          options={options.baitLeft}
          value={answers.baitLeft}
          onChoose={(baitLeft) => change({ baitLeft })}
          label={(option) => w.baitLeft[option]}
          compact
        />
      )}
      {options.monitor.length > 1 && (
        <Choice
          legend={labels.monitor}
          options={options.monitor}
          value={answers.monitor}
          onChoose={(monitor) => change({ monitor })}
          label={(option) => w.monitors[option]}
          compact
        />
      )}
      <Choice
        legend={labels.housing}
        options={HOUSING_CONDITIONS}
        value={answers.housing}
        onChoose={(housing) => change({ housing })}
        label={(option) => w.housings[option]}
        compact
      />
      <Choice
        legend={labels.occupants}
        options={OCCUPANTS}
        value={answers.occupants}
        onChoose={(occupants) => change({ occupants })}
        label={(option) => w.occupants[option]}
        compact
      />
    </>
  );
}

function Bait({ source, found, onChange, tried }: Props) {
  const w = useWords();
  const words = w.desk.entries;
  const { model, opened } = source;
  const slots = slotsForBait(source);
  const isTakenBack =
    opened.application !== null && baitSlotsOf(opened.work).length > 0 && found.baitSlots.length === 0;
  const label = (slot: string) => {
    const said = model?.slots.find(({ id }) => id === slot)?.label ?? slot;
    return w.slots[said] ?? said;
  };
  const toggle = (slot: string, isIn: boolean) => {
    const baitSlots = slots.filter((one) => (one === slot ? isIn : found.baitSlots.includes(one)));
    onChange({ ...found, baitSlots });
  };
  return (
    <>
      {slots.length > 0 && (
        <fieldset className="found-bait">
          <legend>{words.bait}</legend>
          {slots.map((slot) => (
            <label className="check" key={slot}>
              <input
                type="checkbox"
                checked={found.baitSlots.includes(slot)}
                onChange={(event) => toggle(slot, event.target.checked)}
              />
              {words.baitIn(label(slot))}
            </label>
          ))}
        </fieldset>
      )}
      {isTakenBack && (
        <Notice title={words.noBait(w.property.grams(opened.application?.grams ?? 0))} tone="open" />
      )}
      {found.baitSlots.length > 0 && !needsRecord(source, found) && (
        <p className="quiet">{words.keptElsewhere(opened.recordKeptElsewhere ?? '')}</p>
      )}
      {needsRecord(source, found) && (
        <fieldset className="record-legal">
          <legend>{words.legal}</legend>
          <div className="record-row">
            <LegalFields
              legal={legalOf(source, found, w)}
              tried={tried}
              onChange={(legal) => onChange({ ...found, legal })}
            />
          </div>
        </fieldset>
      )}
    </>
  );
}
