import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useLocation } from 'wouter';
import { ProblemError, postJson } from '../api/client.ts';
import { Brand } from '../marks/signs.tsx';
import { Field } from '../shared/field.tsx';
import { Notice } from '../shared/notice.tsx';
import { Page } from '../shared/page.tsx';
import { useWords, type Words } from '../words/index.ts';
import { ThemeButton } from './shell.tsx';

const FIELDS = ['firm', 'person', 'email', 'password'] as const;
type FieldName = (typeof FIELDS)[number];
type Answers = Readonly<Record<FieldName, string>>;

const TYPES: Readonly<Record<FieldName, string>> = {
  firm: 'text',
  person: 'text',
  email: 'email',
  password: 'password',
};
const AUTOCOMPLETE: Readonly<Record<FieldName, string>> = {
  firm: 'organization',
  person: 'name',
  email: 'username',
  password: 'new-password',
};

/** First run: makes the firm and its owner. A set-up token, when the server asks for one, comes in the address (#token). */
export function SetUpPage() {
  const w = useWords();
  const client = useQueryClient();
  const [, go] = useLocation();
  const [answers, setAnswers] = useState<Answers>({ firm: '', person: '', email: '', password: '' });
  const [tried, setTried] = useState(false);
  const setUp = useMutation({
    mutationFn: async (body: Answers) => {
      await postJson<unknown>('/api/setup', {
        firmName: body.firm,
        name: body.person,
        email: body.email,
        password: body.password,
        ...(location.hash.length > 1 ? { token: decodeURIComponent(location.hash.slice(1)) } : {}),
      });
      await postJson<unknown>('/api/auth/sign-in/email', { email: body.email, password: body.password });
    },
    onSuccess: async () => {
      await client.invalidateQueries();
      go('/');
    },
  });
  return (
    <main className="alone">
      <div className="alone-head">
        <span className="brand">
          <Brand size={40} />
          <span>{w.app.name}</span>
        </span>
        <ThemeButton />
      </div>
      <form
        className="sheet form"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          setTried(true);
          if (FIELDS.every((name) => wrongWith(name, answers, w) === undefined)) setUp.mutate(answers);
        }}
      >
        <Page title={w.setUp.title}>
          <p className="quiet">{w.setUp.lead}</p>
          {FIELDS.map((name) => (
            <Field
              key={name}
              label={w.setUp[name]}
              type={TYPES[name]}
              name={name}
              autoComplete={AUTOCOMPLETE[name]}
              required
              value={answers[name]}
              error={tried ? wrongWith(name, answers, w) : undefined}
              onChange={(event) => setAnswers({ ...answers, [name]: event.target.value })}
              {...(name === 'password' ? { hint: w.setUp.passwordHint } : {})}
            />
          ))}
          {setUp.isError && (
            <div role="alert">
              <Notice title={refusal(setUp.error, w)} tone="late" />
            </div>
          )}
          <button type="submit" className="button button-main" disabled={setUp.isPending}>
            {setUp.isPending ? w.setUp.busy : w.setUp.go}
          </button>
          <p className="quiet small">{w.setUp.next}</p>
        </Page>
      </form>
    </main>
  );
}

function wrongWith(name: FieldName, answers: Answers, w: Words): string | undefined {
  if (answers[name].trim() === '') return w.setUp.required(w.setUp[name]);
  if (name === 'email' && !/^[^@\s]+@[^@\s]+$/.test(answers.email)) return w.setUp.notEmail;
  if (name === 'password' && answers.password.length < 12) return w.setUp.short;
  return undefined;
}

function refusal(error: Error, w: Words): string {
  if (!(error instanceof ProblemError)) return `${w.problem.offline} ${w.problem.offlineRemedy}`;
  return [error.problem.detail ?? error.problem.title, error.problem.remedy].filter(Boolean).join(' ');
}
