import type { BranchPlan, Remedy } from '@sillwatch/rounds';
import { getDay } from '@sillwatch/trade';
import { Link } from 'wouter';
import type { Cell } from '../../api/plans.ts';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { personName } from './outcome.tsx';

interface Props {
  readonly plan: BranchPlan;
  readonly property: string;
  /** null = not sought */
  readonly remedies: readonly Remedy[] | null;
  /** Absent where there is no visit that could be moved. */
  readonly onTry: ((to: Cell) => void) | undefined;
}

/** What was tried and would help, with what it costs: a move to look at, or the page where the lead sees to it. */
export function Remedies({ plan, property, remedies, onTry }: Props) {
  const w = useWords();
  const days = useDays();
  if (remedies === null || remedies.length === 0) return null;
  const words = (remedy: Remedy): string =>
    w.desk.plan.remedy(
      remedy,
      'person' in remedy ? personName(plan, remedy.person) : '',
      'day' in remedy ? days.short(getDay(remedy.day)) : '',
    );
  return (
    <>
      <p className="small remedies-head">{w.desk.plan.wouldFit}</p>
      <ul className="remedies">
        {remedies.map((remedy) => (
          <li key={remedy.kind}>
            <span>
              {words(remedy)}
              {'costMinutes' in remedy && (
                <span className="quiet"> ({w.desk.plan.price(remedy.costMinutes)})</span>
              )}
            </span>
            <RemedyStep remedy={remedy} property={property} onTry={onTry} words={words(remedy)} />
          </li>
        ))}
      </ul>
    </>
  );
}

interface StepProps extends Pick<Props, 'property' | 'onTry'> {
  readonly remedy: Remedy;
  readonly words: string;
}

function RemedyStep({ remedy, property, onTry, words }: StepProps) {
  const w = useWords();
  switch (remedy.kind) {
    case 'overtime':
    case 'another day':
    case 'give up the hours':
    case 'another technician': {
      const { person, day } = remedy;
      return onTry === undefined ? null : (
        <button
          type="button"
          className="button"
          aria-label={`${w.desk.plan.tryRemedy}: ${words}`}
          onClick={() => onTry({ person, day })}
        >
          {w.desk.plan.tryRemedy}
        </button>
      );
    }
    case 'a day more':
    case 'a skill':
      return <Link href="/office/rounds">{w.desk.plan.toHours}</Link>;
    case 'one technician more':
      return <Link href="/office/people">{w.desk.plan.toPeople}</Link>;
    case 'enter its position':
    case 'enter its label profile':
      return <Link href={`/properties/${property}`}>{w.desk.plan.toProperty}</Link>;
  }
}
