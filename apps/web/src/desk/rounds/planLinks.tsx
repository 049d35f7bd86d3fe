import { Link, useLocation } from 'wouter';
import { useWords } from '../../words/index.ts';

/** Between making a plan, what came of it, and who reads along. */
export function PlanLinks() {
  const w = useWords();
  const [at] = useLocation();
  const places = [
    ['/plan', w.desk.plan.title],
    ['/plan/sent', w.desk.sent.title],
    ['/plan/calendars', w.desk.calendars.title],
  ] as const;
  return (
    <nav className="buttons" aria-label={w.desk.sent.pages}>
      {places.map(([href, words]) => (
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
