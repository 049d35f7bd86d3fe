import { QueryClientProvider } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { Link } from 'wouter';
import { createQueryClient, useMe } from '../../api/queries.ts';
import type { Me } from '../../api/types.ts';
import { OwnPasswordPage } from '../../desk/ownPasswordPage.tsx';
import { SignInPage } from '../../desk/signInPage.tsx';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly onSignedIn: (me: Me) => Promise<void>;
  /** A session that is open already does not count: who it is has to be shown here and now. Says why, and leads back. */
  readonly anew?: { readonly lead: string; readonly onBack: () => void };
}

/** Once with signal; then this phone remembers who it is for weeks. Practising asks for nobody. */
export function FieldSignIn({ onSignedIn, anew }: Props) {
  const w = useWords();
  // Its own each time: who was signed in before is what is no longer true.
  const [client] = useState(createQueryClient);
  return (
    <QueryClientProvider client={client}>
      <SignedIn onSignedIn={onSignedIn} lead={anew?.lead} />
      <nav className="yard-practice-link" aria-label={w.app.navigation}>
        {anew === undefined ? (
          <Link href="/practice" className="button">
            {w.field.practice.title}
          </Link>
        ) : (
          <button type="button" className="button" onClick={anew.onBack}>
            {w.field.phone.pinBack}
          </button>
        )}
      </nav>
    </QueryClientProvider>
  );
}

interface SignedInProps {
  readonly onSignedIn: (me: Me) => Promise<void>;
  readonly lead: string | undefined;
}

function SignedIn({ onSignedIn, lead }: SignedInProps) {
  const [hasShown, setShown] = useState(lead === undefined);
  const me = useMe(hasShown);
  const person = me.data ?? undefined;
  useEffect(() => {
    if (person !== undefined && !person.mustChangePassword) void onSignedIn(person);
  }, [person, onSignedIn]);
  return person?.mustChangePassword === true ? (
    <OwnPasswordPage />
  ) : (
    <SignInPage lead={lead} onSignedIn={() => setShown(true)} />
  );
}
