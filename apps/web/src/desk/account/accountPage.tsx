import { useState } from 'react';
import { useChangePassword } from '../../api/queries.ts';
import type { Me } from '../../api/types.ts';
import { Field } from '../../shared/field.tsx';
import { Page } from '../../shared/page.tsx';
import { Refusal } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';
import { SecondFactor } from './secondFactor.tsx';

/** How the person who is signed in gets in: the password, and the second factor. */
export default function AccountPage({ me }: { readonly me: Me }) {
  const w = useWords();
  return (
    <Page title={w.account.title}>
      <p className="quiet">{me.email}</p>
      <SecondFactor isOn={me.twoFactor} />
      <OtherPassword />
    </Page>
  );
}

function OtherPassword() {
  const w = useWords();
  const change = useChangePassword();
  const [currentPassword, setCurrent] = useState('');
  const [newPassword, setNew] = useState('');
  const [tried, setTried] = useState(false);
  const isShort = newPassword.length < 12;
  return (
    <form
      className="sheet form"
      onSubmit={(event) => {
        event.preventDefault();
        setTried(true);
        if (isShort) return;
        change.mutate(
          { currentPassword, newPassword },
          {
            onSuccess: () => {
              setCurrent('');
              setNew('');
              setTried(false);
            },
          },
        );
      }}
    >
      <h2>{w.account.password}</h2>
      <p className="quiet">{w.account.passwordLead}</p>
      <Field
        label={w.account.passwordNow}
        type="password"
        autoComplete="current-password"
        required
        value={currentPassword}
        onChange={(event) => setCurrent(event.target.value)}
      />
      <Field
        label={w.account.passwordNext}
        hint={w.setUp.passwordHint}
        type="password"
        autoComplete="new-password"
        required
        value={newPassword}
        error={tried && isShort ? w.setUp.short : undefined}
        onChange={(event) => setNew(event.target.value)}
      />
      <Refusal error={change.error} />
      <p role="status">{change.isSuccess ? w.account.passwordChanged : ''}</p>
      <button type="submit" className="button" disabled={change.isPending}>
        {change.isPending ? w.ownPassword.busy : w.account.changePassword}
      </button>
    </form>
  );
}
