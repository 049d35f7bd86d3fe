import { checkProfile, isLabelProfile, type LabelProfile } from '@sillwatch/trade';
import { useState } from 'react';
import { recordOfFirm } from '../../api/office.ts';
import { useTrade } from '../../api/queries.ts';
import type { Me } from '../../api/types.ts';
import { decimalFault } from '../../shared/decimal.ts';
import { newId } from '../../shared/device.ts';
import { Field } from '../../shared/field.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';
import { ToOffice } from './officePage.tsx';
import {
  draftOf,
  emptyDraft,
  PERCENT,
  type ProfileDraft,
  profileOfDraft,
  readingFault,
  SOURCED_FIELDS,
  sourcedOf,
} from './profileFields.ts';
import { SourcedBoxes } from './sourcedBoxes.tsx';

/** The numbers that the label in use and local code require, each with the place it was taken from. */
export function ProfilesPage({ me }: { readonly me: Me }) {
  const w = useWords();
  const trade = useTrade();
  const [edited, setEdited] = useState<ProfileDraft | undefined>();
  return (
    <Page title={w.desk.office.places.profiles} eyebrow={<ToOffice />}>
      <p className="quiet">{w.desk.profiles.lead}</p>
      {trade.isPending && <Loading />}
      {trade.isError && <Trouble error={trade.error} retry={() => void trade.refetch()} />}
      {trade.isSuccess && edited === undefined && (
        <>
          <ul className="office-list">
            {[...trade.data.profiles.values()].map((profile) => (
              <li key={profile.id} className="sheet office-line">
                <ProfileLine profile={profile} />
                <button type="button" className="button" onClick={() => setEdited(draftOf(profile))}>
                  {w.desk.office.change}
                </button>
              </li>
            ))}
          </ul>
          <button
            type="button"
            className="button button-main"
            onClick={() => setEdited(emptyDraft(`profile-${newId()}`))}
          >
            {w.desk.profiles.add}
          </button>
        </>
      )}
      {edited !== undefined && (
        <ProfileForm me={me} first={edited} onDone={() => setEdited(undefined)} key={edited.id} />
      )}
    </Page>
  );
}

function ProfileLine({ profile }: { readonly profile: LabelProfile }) {
  const w = useWords();
  const invented = SOURCED_FIELDS.filter((field) => profile[field].invented).length;
  return (
    <div>
      <p className="due-name">{profile.name}</p>
      <p className="quiet small">
        {profile.product.name}, {profile.product.epaRegistrationNumber}
      </p>
      {invented > 0 && <p className="owed-late small">{w.desk.profiles.inventedCount(invented)}</p>}
    </div>
  );
}

interface FormProps {
  readonly me: Me;
  readonly first: ProfileDraft;
  readonly onDone: () => void;
}

function ProfileForm({ me, first, onDone }: FormProps) {
  const w = useWords();
  const [draft, setDraft] = useState(first);
  const [tried, setTried] = useState(false);
  const profile = profileOfDraft(draft);
  const problems = tried ? checkProfile(profile) : [];
  const problemAt = (path: string): string | undefined => {
    const found = problems.find((problem) => problem.path === path || problem.path.startsWith(`${path}.`));
    return found === undefined ? undefined : `${found.reason}; ${found.remedy}`;
  };
  const save = useSubmit(
    (body: LabelProfile) => recordOfFirm(me, 'profile set', body),
    () => onDone(),
  );
  const text = (
    name: 'name' | 'productName' | 'epaRegistrationNumber' | 'activeIngredient' | 'activeIngredientPercent',
    path: string,
  ) => ({
    label: w.desk.profiles[name],
    value: draft[name],
    error: problemAt(path),
    onChange: (event: { readonly target: { readonly value: string } }) =>
      setDraft({ ...draft, [name]: event.target.value }),
  });
  return (
    <form
      className="form"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        setTried(true);
        if (isLabelProfile(profile)) save.mutate(profile);
      }}
    >
      <Notice title={w.desk.profiles.caution} tone="open">
        <p>{w.desk.profiles.cautionMore}</p>
      </Notice>
      <section className="sheet form-columns">
        <Field {...text('name', 'name')} />
        <Field {...text('productName', 'product.name')} />
        <Field
          {...text('epaRegistrationNumber', 'product.epaRegistrationNumber')}
          hint={w.desk.profiles.epaHint}
        />
        <Field {...text('activeIngredient', 'product.activeIngredient')} />
        <Field
          {...text('activeIngredientPercent', 'product.activeIngredientPercent')}
          inputMode="decimal"
          error={
            (tried ? decimalFault(draft.activeIngredientPercent, w, PERCENT) : undefined) ??
            problemAt('product.activeIngredientPercent')
          }
        />
      </section>
      {SOURCED_FIELDS.map((field) => (
        <SourcedBoxes
          key={field}
          field={field}
          draft={sourcedOf(draft, field)}
          problem={(tried ? readingFault(field, draft, w) : undefined) ?? problemAt(field)}
          onChange={(sourced) => setDraft({ ...draft, sourced: new Map(draft.sourced).set(field, sourced) })}
        />
      ))}
      {problems.length > 0 && (
        <div role="alert">
          <Notice title={w.desk.profiles.problems(problems.length)} tone="late" />
        </div>
      )}
      <Refusal error={save.error} />
      <div className="buttons">
        <button type="submit" className="button button-main" disabled={save.isPending}>
          {w.desk.profiles.save}
        </button>
        <button type="button" className="button" onClick={onDone}>
          {w.desk.office.leave}
        </button>
      </div>
    </form>
  );
}
