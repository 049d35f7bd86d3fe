import type { Me } from '../../api/types.ts';
import { Page } from '../../shared/page.tsx';
import { useWords } from '../../words/index.ts';
import { NewPassword } from './newPassword.tsx';
import { SecondFactor } from './secondFactor.tsx';

/** How the person who is signed in gets in: the password, and the second factor. */
export default function AccountPage({ me }: { readonly me: Me }) {
  const w = useWords();
  const { title, password, passwordLead, passwordNow, passwordNext, passwordChanged, changePassword } =
    w.account;
  return (
    <Page title={title}>
      <p className="quiet">{me.email}</p>
      <SecondFactor isOn={me.twoFactor} />
      <NewPassword now={passwordNow} next={passwordNext} go={changePassword} done={passwordChanged}>
        <h2>{password}</h2>
        <p className="quiet">{passwordLead}</p>
      </NewPassword>
    </Page>
  );
}
