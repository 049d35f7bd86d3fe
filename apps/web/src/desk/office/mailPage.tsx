import { Page } from '../../shared/page.tsx';
import { useWords } from '../../words/index.ts';
import { MailList } from '../handOut/mailList.tsx';
import { ToOffice } from './officePage.tsx';

/** Every message of the firm, the latest first. */
export function MailPage() {
  const w = useWords();
  return (
    <Page title={w.desk.office.places.mail} eyebrow={<ToOffice />}>
      <MailList />
    </Page>
  );
}
