import { lazy, Suspense } from 'react';
import { useLocation } from 'wouter';
import { Loading } from './shared/notice.tsx';

const Desk = lazy(async () => ({ default: (await import('./deskRoot.tsx')).DeskRoot }));
const Field = lazy(async () => ({ default: (await import('./field/fieldApp.tsx')).FieldApp }));

/** The yard's screens or the office's: a phone fetches only its own. */
export function Root() {
  const [at] = useLocation();
  const isField = at === '/field' || at.startsWith('/field/');
  return (
    <Suspense
      fallback={
        <main className="alone">
          <Loading />
        </main>
      }
    >
      {isField ? <Field /> : <Desk />}
    </Suspense>
  );
}
