import { Link } from 'wouter';
import { Sign } from '../../marks/signs.tsx';
import { Page } from '../../shared/page.tsx';
import { useWords } from '../../words/index.ts';

const PLACES = ['people', 'rounds', 'profiles', 'parts', 'soil', 'import', 'mail'] as const;

/** What is set up once and changed seldom. */
export function OfficePage() {
  const w = useWords();
  return (
    <Page title={w.desk.office.title}>
      <ul className="due-rows">
        {PLACES.map((place) => (
          <li key={place}>
            <Link href={`/office/${place}`} className="due-row place-row">
              <span className="due-place">
                <span className="due-name">{w.desk.office.places[place]}</span>
                <span className="quiet small">{w.desk.office.placesLead[place]}</span>
              </span>
              <Sign name="onward" />
            </Link>
          </li>
        ))}
      </ul>
    </Page>
  );
}

/** Back to the list of what can be set up. */
export function ToOffice() {
  const w = useWords();
  return (
    <Link href="/office" className="back">
      <Sign name="back" /> {w.desk.office.title}
    </Link>
  );
}
