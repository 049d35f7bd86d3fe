import { type ReactNode, useId, useRef } from 'react';
import { Link, useLocation } from 'wouter';
import { useSignOut } from '../api/queries.ts';
import type { Me, Role } from '../api/types.ts';
import { Brand, Sign, type SignName } from '../marks/signs.tsx';
import { LanguageChoice } from '../shared/languageChoice.tsx';
import { ThemeButton } from '../shared/themeButton.tsx';
import { useWords } from '../words/index.ts';

interface Props {
  readonly me: Me;
  readonly children: ReactNode;
}

const PLACES = [
  { href: '/', sign: 'due', word: 'due' },
  { href: '/properties', sign: 'properties', word: 'properties' },
  { href: '/plan', sign: 'plan', word: 'plan', roles: ['lead', 'owner'] },
  { href: '/load', sign: 'load', word: 'load', roles: ['technician', 'lead', 'owner'] },
  { href: '/papers', sign: 'paper', word: 'papers' },
  { href: '/book', sign: 'book', word: 'book', roles: ['lead', 'owner'] },
  { href: '/office', sign: 'office', word: 'office', roles: ['lead', 'owner'] },
  { href: '/marks', sign: 'key', word: 'marks' },
] as const satisfies readonly {
  href: string;
  sign: SignName;
  word: string;
  /** absent = everybody */
  roles?: readonly Role[];
}[];

/** The frame round every page: on a desk a column at the side, on a phone a bar under the thumb. */
export function Shell({ me, children }: Props) {
  const w = useWords();
  return (
    <div className="shell">
      <a className="skip" href="#page">
        {w.app.skip}
      </a>
      <header className="shell-head">
        <Link href="/" className="brand">
          <Brand />
          <span>{w.app.name}</span>
        </Link>
        <div className="shell-tools">
          <ThemeButton />
        </div>
      </header>
      <Places role={me.role} />
      <footer className="shell-who">
        <p className="shell-firm">{me.firm.name}</p>
        <p className="quiet small">
          {me.name}, {w.roles[me.role]}
        </p>
        <div className="shell-who-tools">
          <ThemeButton wordy />
          <LanguageChoice />
          <Link href="/field" className="plain-button">
            <Sign name="properties" />
            <span>{w.field.toYard}</span>
          </Link>
          <Link href="/account" className="plain-button">
            <Sign name="key" />
            <span>{w.account.title}</span>
          </Link>
          <SignOutButton />
        </div>
      </footer>
      <main id="page" tabIndex={-1} className="shell-page">
        {me.demo && <p className="demo">{w.app.demo}</p>}
        {children}
      </main>
    </div>
  );
}

/** As many as a narrow phone shows in its bar with room for a thumb on each. */
const MOST_IN_BAR = 5;

function Places({ role }: { readonly role: Role }) {
  const w = useWords();
  const id = useId();
  const others = useRef<HTMLDivElement>(null);
  const [at] = useLocation();
  const places = PLACES.filter((place) => !('roles' in place) || place.roles.some((one) => one === role)).map(
    (place) => ({ ...place, isHere: place.href === '/' ? at === '/' : at.startsWith(place.href) }),
  );
  const inBar = places.length > MOST_IN_BAR ? MOST_IN_BAR - 1 : places.length;
  const more = places.slice(inBar);
  return (
    <nav className="places" aria-label={w.app.navigation}>
      {places.slice(0, inBar).map((place) => (
        <PlaceLink key={place.href} place={place} />
      ))}
      {more.length > 0 && (
        <>
          <button
            type="button"
            className={more.some(({ isHere }) => isHere) ? 'place places-more is-here' : 'place places-more'}
            popoverTarget={id}
          >
            <Sign name="more" />
            <span>{w.nav.more}</span>
          </button>
          <div id={id} ref={others} popover="auto" className="places-others">
            {more.map((place) => (
              <PlaceLink key={place.href} place={place} onGo={() => others.current?.hidePopover()} />
            ))}
          </div>
        </>
      )}
    </nav>
  );
}

interface PlaceProps {
  readonly place: (typeof PLACES)[number] & { readonly isHere: boolean };
  readonly onGo?: () => void;
}

function PlaceLink({ place: { href, sign, word, isHere }, onGo }: PlaceProps) {
  const w = useWords();
  return (
    <Link
      href={href}
      className="place"
      {...(onGo === undefined ? {} : { onClick: onGo })}
      {...(isHere ? { 'aria-current': 'page' as const } : {})}
    >
      <Sign name={sign} />
      <span>{w.nav[word]}</span>
    </Link>
  );
}

function SignOutButton() {
  const w = useWords();
  const signOut = useSignOut();
  return (
    <button type="button" className="plain-button" onClick={() => signOut.mutate()}>
      <Sign name="leave" />
      <span>{w.app.signOut}</span>
    </button>
  );
}
