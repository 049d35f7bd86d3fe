import { Link } from 'wouter';
import { Page } from '../shared/page.tsx';
import { useWords } from '../words/index.ts';

export function NoPage() {
  const w = useWords();
  return (
    <Page title={w.app.noPage}>
      <p>{w.app.noPageRemedy}</p>
      <Link href="/" className="button">
        {w.app.toDue}
      </Link>
    </Page>
  );
}
