import { type ReactNode, useState } from 'react';
import { useChangePassword } from '../../api/queries.ts';
import { Field } from '../../shared/field.tsx';
import { Refusal } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly now: string;
  readonly next: string;
  readonly go: string;
  /** said once it is changed; absent = another page comes then */
  readonly done?: string;
  /** the one thing to do on its page */
  readonly isMain?: boolean;
  /** heading and lead */
  readonly children: ReactNode;
}

/** The password in use and the one that replaces it. */
export function NewPassword({ now, next, go, done, isMain = false, children }: Props) {
  const w = useWords();
  const change = useChangePassword();
  const [currentPassword, setCurrent] = useState('');
  const [newPassword, setNew] = useState('');
  const [tried, setTried] = useState(false);
  const isShort = newPassword.length < 12;
  const empty = () => {
    setCurrent('');
    setNew('');
    setTried(false);
  };
  return (
    <form
      className="sheet form"
      onSubmit={(event) => {
        event.preventDefault();
        setTried(true);
        if (!isShort) change.mutate({ currentPassword, newPassword }, { onSuccess: empty });
      }}
    >
      {children}
      <Field
        label={now}
        type="password"
        autoComplete="current-password"
        required
        value={currentPassword}
        onChange={(event) => setCurrent(event.target.value)}
      />
      <Field
        label={next}
        hint={w.setUp.passwordHint}
        type="password"
        autoComplete="new-password"
        required
        value={newPassword}
        error={tried && isShort ? w.setUp.short : undefined}
        onChange={(event) => setNew(event.target.value)}
      />
      <Refusal error={change.error} />
      {done !== undefined && <p role="status">{change.isSuccess ? done : ''}</p>}
      <button type="submit" className={isMain ? 'button button-main' : 'button'} disabled={change.isPending}>
        {change.isPending ? w.ownPassword.busy : go}
      </button>
    </form>
  );
}
