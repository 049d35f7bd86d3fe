import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import { getJson, ProblemError, postJson } from '../../api/client.ts';
import { useListedPeople } from '../../api/office.ts';
import { Field } from '../../shared/field.tsx';
import { Notice, Trouble } from '../../shared/notice.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';

interface PastImport {
  readonly id: string;
  readonly by: string;
  readonly importedAt: string;
  readonly facts: number;
  readonly takenBackAt: string | null;
}

/** What was imported before, the latest first; each can be taken back as a whole. */
export function PastImports() {
  const w = useWords();
  const { past } = w.desk.imports;
  const imports = useQuery({
    queryKey: ['imports'],
    queryFn: () => getJson<{ readonly imports: readonly PastImport[] }>('/api/imports'),
  });
  const people = useListedPeople();
  const nameOf = (id: string) => people.data?.find((person) => person.id === id)?.name ?? id;
  const moment = new Intl.DateTimeFormat(w.locale, { dateStyle: 'long', timeStyle: 'short' });
  return (
    <section className="office-part" aria-labelledby="past-imports">
      <h2 id="past-imports">{past.title}</h2>
      {imports.isError && <Trouble error={imports.error} retry={() => void imports.refetch()} />}
      {imports.data?.imports.length === 0 && <p className="quiet">{past.none}</p>}
      <ul className="office-list">
        {(imports.data?.imports ?? []).map(({ id, by, importedAt, facts, takenBackAt }) => (
          <li key={id} className="past-import">
            <p>
              <strong>{moment.format(new Date(importedAt))}</strong>
              {`: ${past.said(facts, nameOf(by))}`}
              {takenBackAt !== null && `; ${past.takenBack(moment.format(new Date(takenBackAt)))}`}
            </p>
            {takenBackAt === null && <TakeBack id={id} name={moment.format(new Date(importedAt))} />}
          </li>
        ))}
      </ul>
    </section>
  );
}

interface TakeBackProps {
  readonly id: string;
  /** Told to who cannot see which line the button stands in. */
  readonly name: string;
}

/** `property <id>` and `<count> × <kind>`, as the server names what leans on an import; the entries are a press away. */
function Leaning({ at, message }: { readonly at: string; readonly message: string }) {
  const w = useWords();
  const [, property] = /^property (.+)$/.exec(at) ?? [];
  const [, count = '', kind = ''] = /^(\d+) × (.+)$/.exec(message) ?? [];
  const said = kind === '' ? message : `${count} × ${w.desk.entries.kinds[kind] ?? kind}`;
  if (property === undefined) return said;
  return (
    <Link href={`/properties/${property}/entries`}>{`${said} (${w.desk.papers.property} ${property})`}</Link>
  );
}

interface Answer {
  readonly withdrawn: number;
  readonly leaning: number;
}

/** Asks why, says what later entries lean on it, and goes ahead over them only where nothing was applied there. */
export function TakeBack({ id, name }: TakeBackProps) {
  const w = useWords();
  const { past } = w.desk.imports;
  const [isOpen, setOpen] = useState(false);
  const [why, setWhy] = useState('');
  const back = useSubmit((evenSo: boolean) =>
    postJson<Answer>(`/api/imports/${encodeURIComponent(id)}/withdraw`, { why: why.trim(), evenSo }),
  );
  const problem = back.error instanceof ProblemError ? back.error.problem : undefined;
  const isLeanedOn = problem?.code === 'import leaned on' || problem?.code === 'import holds applications';
  if (back.data !== undefined)
    return (
      <p role="status">
        {past.done(back.data.withdrawn)} {back.data.leaning > 0 && past.passedOver(back.data.leaning)}
      </p>
    );
  if (!isOpen)
    return (
      <button
        type="button"
        className="button"
        aria-label={`${w.desk.imports.takeBack}: ${name}`}
        onClick={() => setOpen(true)}
      >
        {w.desk.imports.takeBack}
      </button>
    );
  return (
    <form
      className="form past-import"
      onSubmit={(event) => {
        event.preventDefault();
        back.mutate(false);
      }}
    >
      <Field
        label={past.why}
        hint={past.whyHint}
        required
        minLength={3}
        value={why}
        onChange={(event) => setWhy(event.target.value)}
      />
      {isLeanedOn && problem !== undefined ? (
        <div role="alert">
          <Notice title={problem.code === 'import leaned on' ? past.leanedOn : past.applied} tone="late">
            <ul>
              {(problem.errors ?? []).map(({ at, message }) => (
                <li key={`${at} ${message}`}>
                  <Leaning at={at} message={message} />
                </li>
              ))}
            </ul>
            <p>{problem.code === 'import leaned on' ? past.leanedOnRemedy : past.appliedRemedy}</p>
          </Notice>
        </div>
      ) : (
        <Refusal error={back.error} />
      )}
      <div className="buttons">
        <button type="submit" className="button" disabled={back.isPending || why.trim().length < 3}>
          {w.desk.imports.takeBack}
        </button>
        {problem?.code === 'import leaned on' && (
          <button
            type="button"
            className="button"
            disabled={back.isPending}
            onClick={() => back.mutate(true)}
          >
            {past.evenSo}
          </button>
        )}
        <button type="button" className="button" onClick={() => setOpen(false)}>
          {w.desk.office.leave}
        </button>
      </div>
    </form>
  );
}
