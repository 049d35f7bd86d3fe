import { useState } from 'react';
import { useBeginSecondFactor, useEndSecondFactor, useSecondFactor } from '../../api/queries.ts';
import { Field } from '../../shared/field.tsx';
import { Notice } from '../../shared/notice.tsx';
import { Refusal } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';
import { CodePicture } from './codePicture.tsx';

/** A code of an authenticator app at each sign-in: switched on in two steps, off in one; both ask for the password. */
export function SecondFactor({ isOn }: { readonly isOn: boolean }) {
  const w = useWords();
  const begin = useBeginSecondFactor();
  const end = useEndSecondFactor();
  if (begin.data !== undefined && !isOn) return <Enrolment {...begin.data} />;
  const step = isOn ? end : begin;
  const send = (password: string) => {
    if (isOn) end.mutate(password, { onSuccess: () => begin.reset() });
    else begin.mutate(password);
  };
  return (
    <section className="sheet" aria-labelledby="second-factor">
      <h2 id="second-factor">{w.account.factor}</h2>
      <p>{isOn ? w.account.factorOn : w.account.factorOff}</p>
      <WithPassword
        key={String(isOn)}
        go={isOn ? w.account.factorEnd : w.account.factorBegin}
        isBusy={step.isPending}
        error={step.error}
        send={send}
      />
    </section>
  );
}

interface WithPasswordProps {
  readonly go: string;
  readonly isBusy: boolean;
  readonly error: Error | null;
  readonly send: (password: string) => void;
}

function WithPassword({ go, isBusy, error, send }: WithPasswordProps) {
  const w = useWords();
  const [password, setPassword] = useState('');
  return (
    <form
      className="form"
      onSubmit={(event) => {
        event.preventDefault();
        send(password);
      }}
    >
      <Field
        label={w.signIn.password}
        type="password"
        autoComplete="current-password"
        required
        value={password}
        onChange={(event) => setPassword(event.target.value)}
      />
      <Refusal error={error} />
      <button type="submit" className="button" disabled={isBusy}>
        {go}
      </button>
    </form>
  );
}

interface EnrolmentProps {
  /** `otpauth:` address, as authenticator apps read it */
  readonly totpUri: string;
  readonly backupCodes: readonly string[];
}

function Enrolment({ totpUri, backupCodes }: EnrolmentProps) {
  const w = useWords();
  const second = useSecondFactor();
  const [code, setCode] = useState('');
  const secret = new URL(totpUri).searchParams.get('secret') ?? '';
  return (
    <section className="sheet" aria-labelledby="second-factor">
      <h2 id="second-factor">{w.account.factor}</h2>
      <h3>{w.account.readCode}</h3>
      <CodePicture text={totpUri} label={w.account.codePicture} />
      <p className="quiet">{w.account.orType}</p>
      <p className="secret">{secret.replaceAll(/(.{4})(?=.)/g, '$1 ')}</p>
      <h3>{w.account.keepCodes}</h3>
      <Notice title={w.account.keepCodesWhy} tone="open" />
      <ul className="secret secret-list">
        {backupCodes.map((one) => (
          <li key={one}>{one}</li>
        ))}
      </ul>
      <h3>{w.account.lastStep}</h3>
      <form
        className="form"
        onSubmit={(event) => {
          event.preventDefault();
          second.mutate({ code: code.trim(), isBackup: false });
        }}
      >
        <Field
          label={w.signIn.code}
          inputMode="numeric"
          autoComplete="one-time-code"
          required
          value={code}
          onChange={(event) => setCode(event.target.value)}
        />
        <Refusal error={second.error} />
        <button type="submit" className="button button-main" disabled={second.isPending}>
          {w.account.factorGo}
        </button>
      </form>
    </section>
  );
}
