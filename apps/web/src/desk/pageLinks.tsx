import { Link, useLocation } from 'wouter';

interface Props {
  readonly label: string;
  /** address and words of each page */
  readonly pages: readonly (readonly [href: string, words: string])[];
}

/** Between pages that belong together; the one that is open is marked. */
export function PageLinks({ label, pages }: Props) {
  const [at] = useLocation();
  return (
    <nav className="buttons" aria-label={label}>
      {pages.map(([href, words]) => (
        <Link
          key={href}
          href={href}
          className="button"
          {...(at === href ? { 'aria-current': 'page' as const } : {})}
        >
          {words}
        </Link>
      ))}
    </nav>
  );
}
