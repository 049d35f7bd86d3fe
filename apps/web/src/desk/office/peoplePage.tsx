import { useState } from 'react';
import { deleteJson, patchJson, postJson } from '../../api/client.ts';
import { type ListedPerson, useListedPeople } from '../../api/office.ts';
import { useBranches } from '../../api/queries.ts';
import type { Me, Role } from '../../api/types.ts';
import { Field } from '../../shared/field.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { Select } from '../../shared/select.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';
import { ToOffice } from './officePage.tsx';

const ROLES: readonly Role[] = ['technician', 'lead', 'owner', 'inspector'];

/** Everyone who may sign in, and those who once could: their names stay on what they recorded. */
export function PeoplePage({ me }: { readonly me: Me }) {
  const w = useWords();
  const people = useListedPeople();
  const [edited, setEdited] = useState<string | undefined>();
  const [password, setPassword] = useState<{ readonly name: string; readonly text: string } | undefined>();
  const present = people.data?.filter(({ removedAt }) => removedAt === null) ?? [];
  const former = people.data?.filter(({ removedAt }) => removedAt !== null) ?? [];
  return (
    <Page title={w.desk.office.places.people} eyebrow={<ToOffice />}>
      {people.isPending && <Loading />}
      {people.isError && <Trouble error={people.error} retry={() => void people.refetch()} />}
      {password !== undefined && (
        <Notice title={w.desk.people.passwordOnce(password.name)} tone="open">
          <p className="one-time">{password.text}</p>
          <p>{w.desk.people.passwordHow}</p>
        </Notice>
      )}
      <ul className="office-list">
        {present.map((person) => (
          <li key={person.id} className="sheet">
            {edited === person.id ? (
              <PersonForm
                person={person}
                onDone={() => setEdited(undefined)}
                onPassword={(text) => setPassword({ name: person.name, text })}
                mayRemove={person.id !== me.id}
              />
            ) : (
              <div className="office-line">
                <div>
                  <p className="due-name">{person.name}</p>
                  <p className="quiet small">
                    {w.roles[person.role]}, {person.email}
                    {person.certificationNumber === null ? '' : `, ${person.certificationNumber}`}
                  </p>
                </div>
                <button type="button" className="button" onClick={() => setEdited(person.id)}>
                  {w.desk.office.change}
                </button>
              </div>
            )}
          </li>
        ))}
      </ul>
      <section className="sheet">
        <h2>{w.desk.people.add}</h2>
        <PersonForm
          key={present.length}
          person={undefined}
          onDone={() => undefined}
          onPassword={(text, name) => setPassword({ name, text })}
          mayRemove={false}
        />
      </section>
      {former.length > 0 && (
        <section>
          <h2>{w.desk.people.former}</h2>
          <p className="quiet">{former.map(({ name }) => name).join(', ')}</p>
        </section>
      )}
    </Page>
  );
}

interface FormProps {
  /** undefined = a new one */
  readonly person: ListedPerson | undefined;
  readonly mayRemove: boolean;
  readonly onDone: () => void;
  readonly onPassword: (password: string, name: string) => void;
}

function PersonForm({ person, mayRemove, onDone, onPassword }: FormProps) {
  const w = useWords();
  const branches = useBranches();
  const [answers, setAnswers] = useState({
    name: person?.name ?? '',
    email: person?.email ?? '',
    role: person?.role ?? ('technician' as Role),
    branch: person?.branch ?? '',
    licenceNumber: person?.licenceNumber ?? '',
    certificationNumber: person?.certificationNumber ?? '',
  });
  const orNull = (text: string): string | null => (text.trim() === '' ? null : text.trim());
  const save = useSubmit(
    async () => {
      const { email, ...rest } = answers;
      const body = {
        ...rest,
        branch: orNull(rest.branch),
        licenceNumber: orNull(rest.licenceNumber),
        certificationNumber: orNull(rest.certificationNumber),
      };
      if (person !== undefined) return patchJson<unknown>(`/api/people/${person.id}`, body);
      const added = await postJson<{ readonly oneTimePassword: string }>('/api/people', { ...body, email });
      onPassword(added.oneTimePassword, body.name);
      return added;
    },
    () => onDone(),
  );
  const remove = useSubmit(
    () => deleteJson<unknown>(`/api/people/${person?.id ?? ''}`),
    () => onDone(),
  );
  const renew = useSubmit(async () => {
    const { oneTimePassword } = await postJson<{ readonly oneTimePassword: string }>(
      `/api/people/${person?.id ?? ''}/password`,
      {},
    );
    onPassword(oneTimePassword, answers.name);
  });
  const text = (name: 'name' | 'email' | 'licenceNumber' | 'certificationNumber') => ({
    label: w.desk.people[name],
    value: answers[name],
    onChange: (event: { readonly target: { readonly value: string } }) =>
      setAnswers({ ...answers, [name]: event.target.value }),
  });
  return (
    <form
      className="form form-columns"
      onSubmit={(event) => {
        event.preventDefault();
        save.mutate(undefined);
      }}
    >
      <Field {...text('name')} required autoComplete="off" />
      {person === undefined && <Field {...text('email')} type="email" required autoComplete="off" />}
      <Select
        label={w.desk.people.role}
        value={answers.role}
        options={ROLES.map((role) => [role, w.roles[role]])}
        onPick={(picked) =>
          setAnswers({ ...answers, role: ROLES.find((role) => role === picked) ?? 'technician' })
        }
      />
      <Select
        label={w.due.branch}
        hint={w.desk.people.branchHint}
        value={answers.branch}
        options={[
          ['', w.desk.people.wholeFirm],
          ...(branches.data?.branches ?? []).map(({ branch, name }) => [branch, name] as const),
        ]}
        onPick={(branch) => setAnswers({ ...answers, branch })}
      />
      <Field {...text('certificationNumber')} hint={w.desk.people.certificationHint} autoComplete="off" />
      <Field {...text('licenceNumber')} autoComplete="off" />
      <Refusal error={save.error ?? remove.error ?? renew.error} />
      <div className="buttons">
        <button type="submit" className="button button-main" disabled={save.isPending}>
          {person === undefined ? w.desk.people.add : w.desk.office.save}
        </button>
        {person !== undefined && (
          <button type="button" className="button" onClick={onDone}>
            {w.desk.office.leave}
          </button>
        )}
        {mayRemove && (
          <>
            <button type="button" className="button" onClick={() => renew.mutate(undefined)}>
              {w.desk.people.renew}
            </button>
            <button
              type="button"
              className="button button-late"
              onClick={() => {
                if (window.confirm(w.desk.people.removeSure(answers.name))) remove.mutate(undefined);
              }}
            >
              {w.desk.people.remove}
            </button>
          </>
        )}
      </div>
    </form>
  );
}
