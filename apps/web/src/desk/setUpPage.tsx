import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { postJson } from '../api/client.ts';
import { Brand } from '../marks/signs.tsx';
import { Field } from '../shared/field.tsx';
import { Page } from '../shared/page.tsx';
import { Refusal } from '../shared/submit.tsx';
import { ThemeButton } from '../shared/themeButton.tsx';
import { useWords, type Words } from '../words/index.ts';

const ALL = ['firm', 'person', 'email', 'password', 'token'] as const;
type FieldName = (typeof ALL)[number];
type Answers = Readonly<Record<FieldName, string>>;

const TYPES: Readonly<Record<FieldName, string>> = {
  firm: 'text',
  person: 'text',
  email: 'email',
  password: 'password',
  token: 'text',
};
const AUTOCOMPLETE: Readonly<Record<FieldName, string>> = {
  firm: 'organization',
  person: 'name',
  email: 'username',
  password: 'new-password',
  token: 'off',
};

interface Props {
  /** The server is open to a network, so it wants to see that its log can be read. */
  readonly tokenNeeded: boolean;
}

/** First run: makes the firm and its owner, then signs the owner in. */
export function SetUpPage({ tokenNeeded }: Props) {
  const w = useWords();
  const client = useQueryClient();
  const fields = ALL.filter((name) => name !== 'token' || tokenNeeded);
  const [answers, setAnswers] = useState<Answers>({
    firm: '',
    person: '',
    email: '',
    password: '',
    token: '',
  });
  const [tried, setTried] = useState(false);
  const setUp = useMutation({
    mutationFn: async (body: Answers) => {
      await postJson<unknown>('/api/setup', {
        firmName: body.firm,
        name: body.person,
        email: body.email,
        password: body.password,
        ...(tokenNeeded ? { token: body.token.trim() } : {}),
      });
      await postJson<unknown>('/api/auth/sign-in', { email: body.email, password: body.password });
    },
    onSuccess: () => client.invalidateQueries(),
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
          if (fields.every((name) => wrongWith(name, answers, w) === undefined)) setUp.mutate(answers);
        }}
      >
        <Page title={w.setUp.title}>
          <p className="quiet">{w.setUp.lead}</p>
          {fields.map((name) => (
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
              {...(name === 'token' ? { hint: w.setUp.tokenHint } : {})}
            />
          ))}
          <Refusal error={setUp.error} />
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
