import { useWords } from '../../words/index.ts';
import { PageLinks } from '../pageLinks.tsx';

/** Between making a plan, what came of it, and who reads along. */
export function PlanLinks() {
  const w = useWords();
  return (
    <PageLinks
      label={w.desk.sent.pages}
      pages={[
        ['/plan', w.desk.plan.title],
        ['/plan/sent', w.desk.sent.title],
        ['/plan/calendars', w.desk.calendars.title],
      ]}
    />
  );
}
