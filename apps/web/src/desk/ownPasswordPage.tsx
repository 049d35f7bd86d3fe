import { Brand } from '../marks/signs.tsx';
import { Page } from '../shared/page.tsx';
import { ThemeButton } from '../shared/themeButton.tsx';
import { useWords } from '../words/index.ts';
import { NewPassword } from './account/newPassword.tsx';

/** A one-time password opens nothing but this: its owner chooses one that nobody else has seen. */
export function OwnPasswordPage() {
  const w = useWords();
  const { title, lead, current, next, go } = w.ownPassword;
  return (
    <main className="alone">
      <div className="alone-head">
        <span className="brand">
          <Brand size={40} />
          <span>{w.app.name}</span>
        </span>
        <ThemeButton />
      </div>
      <NewPassword now={current} next={next} go={go} isMain>
        <Page title={title}>
          <p className="quiet">{lead}</p>
        </Page>
      </NewPassword>
    </main>
  );
}
