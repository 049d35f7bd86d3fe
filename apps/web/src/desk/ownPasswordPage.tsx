import { useState } from 'react';
import { useChangePassword } from '../api/queries.ts';
import { Brand } from '../marks/signs.tsx';
import { Field } from '../shared/field.tsx';
import { Page } from '../shared/page.tsx';
import { Refusal } from '../shared/submit.tsx';
import { ThemeButton } from '../shared/themeButton.tsx';
import { useWords } from '../words/index.ts';

/** A one-time password opens nothing but this: its owner chooses one that nobody else has seen. */
export function OwnPasswordPage() {
  const w = useWords();
  const change = useChangePassword();
  const [currentPassword, setCurrent] = useState('');
  const [newPassword, setNew] = useState('');
  const [tried, setTried] = useState(false);
  const isShort = newPassword.length < 12;
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
        onSubmit={(event) => {
          event.preventDefault();
          setTried(true);
          if (!isShort) change.mutate({ currentPassword, newPassword });
        }}
      >
        <Page title={w.ownPassword.title}>
          <p className="quiet">{w.ownPassword.lead}</p>
          <Field
            label={w.ownPassword.current}
            type="password"
            autoComplete="current-password"
            required
            value={currentPassword}
            onChange={(event) => setCurrent(event.target.value)}
          />
          <Field
            label={w.ownPassword.next}
            hint={w.setUp.passwordHint}
            type="password"
            autoComplete="new-password"
            required
            value={newPassword}
            error={tried && isShort ? w.setUp.short : undefined}
            onChange={(event) => setNew(event.target.value)}
          />
          <Refusal error={change.error} />
          <button type="submit" className="button button-main" disabled={change.isPending}>
            {change.isPending ? w.ownPassword.busy : w.ownPassword.go}
          </button>
        </Page>
      </form>
    </main>
  );
}
