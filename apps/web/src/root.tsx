import { lazy, Suspense } from 'react';
import { useLocation } from 'wouter';
import { Loading } from './shared/notice.tsx';

const loadField = () => import('./field/fieldApp.tsx');
const Desk = lazy(async () => ({ default: (await import('./deskRoot.tsx')).DeskRoot }));
const Field = lazy(async () => ({ default: (await loadField()).FieldApp }));

/** Begins the fetching of what this address needs, while the words are still on their way. */
export function beginRoot(path: string): void {
  if (isFieldAt(path))
    void loadField().then(
      ({ beginField }) => beginField(path),
      () => {},
    );
}

function isFieldAt(path: string): boolean {
  return path === '/field' || path.startsWith('/field/');
}

/** The yard's screens or the office's: a phone fetches only its own. */
export function Root() {
  const [at] = useLocation();
  const isField = isFieldAt(at);
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
