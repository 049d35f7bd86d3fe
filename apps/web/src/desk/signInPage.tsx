import { useState } from 'react';
import { ProblemError } from '../api/client.ts';
import { useSecondFactor, useSignIn } from '../api/queries.ts';
import { Brand } from '../marks/signs.tsx';
import { Field } from '../shared/field.tsx';
import { LanguageChoice } from '../shared/languageChoice.tsx';
import { Notice } from '../shared/notice.tsx';
import { Page } from '../shared/page.tsx';
import { refusalWords } from '../shared/refusalWords.ts';
import { ThemeButton } from '../shared/themeButton.tsx';
import { useWords, type Words } from '../words/index.ts';

interface Props {
  /** above the form: why one is asked here */
  readonly lead?: string | undefined;
  /** once the last thing asked for was right */
  readonly onSignedIn?: () => void;
}

/** E-mail and password; then, where a second factor is switched on, its code. */
export function SignInPage({ lead, onSignedIn }: Props) {
  const w = useWords();
  const signIn = useSignIn();
  return (
    <main className="alone">
      <div className="alone-head">
        <span className="brand">
          <Brand size={40} />
          <span>{w.app.name}</span>
        </span>
        <ThemeButton />
      </div>
      {signIn.data?.status === 'code needed' ? (
        <CodeForm back={() => signIn.reset()} onSignedIn={onSignedIn} />
      ) : (
        <PasswordForm signIn={signIn} lead={lead} onSignedIn={onSignedIn} />
      )}
    </main>
  );
}

interface PasswordFormProps {
  readonly signIn: ReturnType<typeof useSignIn>;
  readonly lead: string | undefined;
  readonly onSignedIn: (() => void) | undefined;
}

function PasswordForm({ signIn, lead, onSignedIn }: PasswordFormProps) {
  const w = useWords();
  const [email, setEmail] = useState('');
  const [password, setPassword] = useState('');
  return (
    <form
      className="sheet form"
      onSubmit={(event) => {
        event.preventDefault();
        signIn.mutate(
          { email, password },
          { onSuccess: ({ status }) => (status === 'signed in' ? onSignedIn?.() : undefined) },
        );
      }}
    >
      <Page title={w.signIn.title}>
        {lead !== undefined && <p>{lead}</p>}
        <Field
          label={w.signIn.email}
          type="email"
          name="email"
          autoComplete="username"
          required
          value={email}
          onChange={(event) => setEmail(event.target.value)}
        />
        <Field
          label={w.signIn.password}
          type="password"
          name="password"
          autoComplete="current-password"
          required
          value={password}
          onChange={(event) => setPassword(event.target.value)}
        />
        {signIn.isError && <Refused error={signIn.error} wrong={w.signIn.wrong} />}
        <button type="submit" className="button button-main" disabled={signIn.isPending}>
          {signIn.isPending ? w.signIn.busy : w.signIn.go}
        </button>
      </Page>
      <LanguageChoice />
    </form>
  );
}

interface CodeFormProps {
  readonly back: () => void;
  readonly onSignedIn: (() => void) | undefined;
}

function CodeForm({ back, onSignedIn }: CodeFormProps) {
  const w = useWords();
  const second = useSecondFactor();
  const [code, setCode] = useState('');
  const [isBackup, setBackup] = useState(false);
  return (
    <form
      className="sheet form"
      onSubmit={(event) => {
        event.preventDefault();
        second.mutate({ code: code.trim(), isBackup }, { onSuccess: () => onSignedIn?.() });
      }}
    >
      <Page title={w.signIn.title}>
        <p className="quiet">{isBackup ? w.signIn.backupLead : w.signIn.codeLead}</p>
        <Field
          key={String(isBackup)}
          label={isBackup ? w.signIn.backupCode : w.signIn.code}
          name="code"
          {...(isBackup ? {} : { inputMode: 'numeric', autoComplete: 'one-time-code' })}
          required
          value={code}
          onChange={(event) => setCode(event.target.value)}
        />
        {second.isError && (
          <Refused error={second.error} wrong={isBackup ? w.signIn.backupWrong : w.signIn.codeWrong} />
        )}
        <button type="submit" className="button button-main" disabled={second.isPending}>
          {second.isPending ? w.signIn.busy : w.signIn.go}
        </button>
        <button
          type="button"
          className="button"
          onClick={() => {
            setBackup(!isBackup);
            setCode('');
            second.reset();
          }}
        >
          {isBackup ? w.signIn.useApp : w.signIn.useBackup}
        </button>
        <button type="button" className="plain-button" onClick={back}>
          {w.signIn.back}
        </button>
      </Page>
    </form>
  );
}

function Refused({ error, wrong }: { readonly error: Error; readonly wrong: string }) {
  const w = useWords();
  return (
    <div role="alert">
      <Notice title={refusal(error, wrong, w)} tone="late" />
    </div>
  );
}

function refusal(error: Error, wrong: string, w: Words): string {
  if (error instanceof ProblemError && [400, 401].includes(error.problem.status)) return wrong;
  return refusalWords(error, w);
}
