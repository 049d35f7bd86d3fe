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
}

/** Once with signal; then this phone remembers who it is for weeks. Practising asks for nobody. */
export function FieldSignIn({ onSignedIn }: Props) {
  const w = useWords();
  // Its own each time: who was signed in before is what is no longer true.
  const [client] = useState(createQueryClient);
  return (
    <QueryClientProvider client={client}>
      <SignedIn onSignedIn={onSignedIn} />
      <nav className="yard-practice-link" aria-label={w.app.navigation}>
        <Link href="/practice" className="button">
          {w.field.practice.title}
        </Link>
      </nav>
    </QueryClientProvider>
  );
}

function SignedIn({ onSignedIn }: Props) {
  const me = useMe();
  const person = me.data ?? undefined;
  useEffect(() => {
    if (person !== undefined && !person.mustChangePassword) void onSignedIn(person);
  }, [person, onSignedIn]);
  return person?.mustChangePassword === true ? <OwnPasswordPage /> : <SignInPage />;
}
