import { STATION_MODELS, type StationModel } from '@sillwatch/trade';
import { useState } from 'react';
import { recordOfFirm, useOffice } from '../../api/office.ts';
import { useTrade } from '../../api/queries.ts';
import type { Me } from '../../api/types.ts';
import { decimalFault, decimalOf } from '../../shared/decimal.ts';
import { Field } from '../../shared/field.tsx';
import { Loading, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';
import { ToOffice } from './officePage.tsx';

/** What a branch carries: each part that a station model asks for, how it is bought, and what bait weighs. */
export function PartsPage({ me }: { readonly me: Me }) {
  const w = useWords();
  const office = useOffice();
  const trade = useTrade();
  const models = [...(trade.data?.models.values() ?? STATION_MODELS)];
  const needed = [...new Set(models.flatMap(partsOf))].sort();
  const known = new Map(office.data?.parts.map((part) => [part.part, part]));
  const [wanted, setWanted] = useState('');
  const parts = [...new Set([...needed, ...known.keys()])];
  const isWanted = (part: string): boolean =>
    (known.get(part)?.name ?? w.parts[part] ?? part)
      .toLocaleLowerCase(w.locale)
      .includes(wanted.trim().toLocaleLowerCase(w.locale));
  const isNoneFound = !parts.some(isWanted);
  return (
    <Page title={w.desk.office.places.parts} eyebrow={<ToOffice />}>
      <p className="quiet">{w.desk.parts.lead}</p>
      {office.isPending && <Loading />}
      {office.isError && <Trouble error={office.error} retry={() => void office.refetch()} />}
      {office.isSuccess && (
        <Field
          label={w.desk.parts.find}
          type="search"
          value={wanted}
          onChange={(event) => setWanted(event.target.value)}
        />
      )}
      <p role="status" className="quiet">
        {office.isSuccess && isNoneFound ? w.desk.parts.noneFound : ''}
      </p>
      {office.isSuccess && (
        <ul className="office-list">
          {/* One that is not looked for is hidden, so that what was typed into it stays. */}
          {parts.map((part) => (
            <li key={part} className="sheet" hidden={!isWanted(part)}>
              <PartForm me={me} part={part} known={known.get(part)} />
            </li>
          ))}
        </ul>
      )}
      <section className="sheet">
        <h2>{w.desk.parts.models}</h2>
        {models.map((model) => (
          <div key={model.id}>
            <h3>{model.name}</h3>
            <p className="quiet small">
              {model.slots
                .map(({ label, holds }) => `${label}: ${holds.map((one) => w.inserts[one]).join(', ')}`)
                .join('; ')}
            </p>
          </div>
        ))}
      </section>
    </Page>
  );
}

function partsOf({ parts }: StationModel): readonly string[] {
  return Object.values(parts).filter((part) => part !== null);
}

interface PartProps {
  readonly me: Me;
  readonly part: string;
  readonly known:
    | {
        readonly name: string;
        readonly packSize: number;
        readonly leadDays: number;
        readonly baitGrams: number | null;
      }
    | undefined;
}

function PartForm({ me, part, known }: PartProps) {
  const w = useWords();
  const [name, setName] = useState(known?.name ?? w.parts[part] ?? part);
  const [packSize, setPackSize] = useState(String(known?.packSize ?? ''));
  const [leadDays, setLeadDays] = useState(String(known?.leadDays ?? ''));
  const [baitGrams, setBaitGrams] = useState(known?.baitGrams == null ? '' : String(known.baitGrams));
  const [tried, setTried] = useState(false);
  const gramsFault = decimalFault(baitGrams, w);
  const save = useSubmit(() =>
    recordOfFirm(me, 'part set', {
      part,
      name: name.trim(),
      packSize: Number(packSize),
      leadDays: Number(leadDays),
      baitGrams: baitGrams.trim() === '' ? null : decimalOf(baitGrams),
    }),
  );
  return (
    <form
      className="form form-columns"
      onSubmit={(event) => {
        event.preventDefault();
        setTried(true);
        if (gramsFault === undefined) save.mutate(undefined);
      }}
    >
      <Field
        label={w.desk.parts.name}
        required
        value={name}
        onChange={(event) => setName(event.target.value)}
      />
      <Field
        label={w.desk.parts.packSize}
        inputMode="numeric"
        required
        value={packSize}
        onChange={(event) => setPackSize(event.target.value)}
      />
      <Field
        label={w.desk.parts.leadDays}
        inputMode="numeric"
        required
        value={leadDays}
        onChange={(event) => setLeadDays(event.target.value)}
      />
      <Field
        label={w.desk.parts.baitGrams}
        hint={w.desk.parts.baitGramsHint}
        inputMode="decimal"
        value={baitGrams}
        error={tried ? gramsFault : undefined}
        onChange={(event) => setBaitGrams(event.target.value)}
      />
      <Refusal error={save.error} />
      <div className="buttons">
        <button type="submit" className="button" disabled={save.isPending}>
          {w.desk.office.save}
        </button>
        {save.isSuccess && <span role="status">{w.desk.office.saved}</span>}
      </div>
    </form>
  );
}
