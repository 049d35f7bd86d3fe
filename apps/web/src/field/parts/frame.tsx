import { type ReactNode, useEffect } from 'react';
import { Link, useLocation } from 'wouter';
import { Sign, type SignName } from '../../marks/signs.tsx';
import { Page } from '../../shared/page.tsx';
import { useWords } from '../../words/index.ts';
import { useYard } from '../yard.tsx';
import { SyncLine } from './syncLine.tsx';

interface Props {
  readonly title: string;
  readonly heading?: ReactNode;
  /** Where the arrow leads; undefined = this is one of the three places of the bar below. */
  readonly back?: string | undefined;
  readonly children: ReactNode;
  /** Under the thumb, at the lower edge. */
  readonly actions?: ReactNode;
}

/** Every yard screen: where one is above, what one does under the thumb. */
export function Screen({ title, heading, back, children, actions }: Props) {
  const w = useWords();
  useEffect(() => {
    window.scrollTo(0, 0);
  }, []);
  return (
    <div className="yard">
      <a className="skip" href="#page">
        {w.app.skip}
      </a>
      <header className="yard-head">
        {back !== undefined && (
          <Link href={back} className="icon-button yard-back" aria-label={w.app.back}>
            <Sign name="back" size={28} />
          </Link>
        )}
        <SyncLine />
      </header>
      <main id="page" tabIndex={-1} className="yard-main">
        <div className="yard-page">
          <Page title={title} heading={heading}>
            {children}
          </Page>
        </div>
        {actions !== undefined && <div className="yard-actions">{actions}</div>}
      </main>
      {back === undefined && <Places />}
    </div>
  );
}

const PLACES = [
  { href: '/', sign: 'due', word: 'today' },
  { href: '/practice', sign: 'key', word: 'practice' },
  { href: '/phone', sign: 'properties', word: 'phone' },
] as const satisfies readonly { href: string; sign: SignName; word: string }[];

function Places() {
  const w = useWords();
  const { isPractice } = useYard();
  const [at] = useLocation();
  if (isPractice) return null;
  return (
    <nav className="places yard-places" aria-label={w.app.navigation}>
      {PLACES.map(({ href, sign, word }) => (
        <Link
          key={href}
          href={href}
          className="place"
          {...((href === '/' ? at === '/' || at.startsWith('/day') : at.startsWith(href))
            ? { 'aria-current': 'page' as const }
            : {})}
        >
          <Sign name={sign} />
          <span>{w.field.nav[word]}</span>
        </Link>
      ))}
    </nav>
  );
}
