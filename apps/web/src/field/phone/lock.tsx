import { type FormEvent, Suspense, useState } from 'react';
import type { Me } from '../../api/types.ts';
import { Field } from '../../shared/field.tsx';
import { Loading } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { useWords } from '../../words/index.ts';
import { syncWords } from '../parts/syncLine.tsx';
import { useWatched } from '../store/useWatched.ts';
import { useStore } from '../yard.tsx';
import { SignIn } from './lazySignIn.ts';

interface PinFieldProps {
  readonly label: string;
  readonly value: string;
  readonly onType: (typed: string) => void;
}

function PinField({ label, value, onType }: PinFieldProps) {
  return (
    <Field
      label={label}
      type="password"
      inputMode="numeric"
      autoComplete="off"
      value={value}
      onChange={(event) => onType(event.target.value)}
    />
  );
}

/** Sets, changes or takes off the lock of the app. */
export function Lock() {
  const w = useWords();
  const store = useStore();
  const lock = useWatched(store.lock);
  const [pin, setPin] = useState('');
  const [again, setAgain] = useState('');
  const [old, setOld] = useState('');
  const [said, setSaid] = useState('');
  const set = async (next: string | null) => {
    if (next !== null && !/^\d{4,12}$/.test(next)) {
      setSaid(w.field.phone.pinShape);
      return;
    }
    // Nobody sees what was typed, and a slip would shut the phone to its own technician.
    if (next !== null && next !== again) {
      setSaid(w.field.phone.pinDiffers);
      return;
    }
    const answer = await store.setPin(next, ...(lock.hasPin ? [old] : []));
    setSaid(
      answer === 'wrong'
        ? w.field.phone.pinWrong
        : next === null
          ? w.field.phone.pinOffDone
          : w.field.phone.pinDone,
    );
    if (answer === 'done') {
      setPin('');
      setAgain('');
      setOld('');
    }
  };
  return (
    <details className="sheet">
      <summary>{w.field.phone.lock}</summary>
      <p className="quiet">{w.field.phone.lockLead}</p>
      {lock.hasPin && <PinField label={w.field.phone.pinOld} value={old} onType={setOld} />}
      <PinField label={w.field.phone.pin} value={pin} onType={setPin} />
      <PinField label={w.field.phone.pinAgain} value={again} onType={setAgain} />
      <p role="status">{said}</p>
      <div className="yard-buttons">
        <button type="button" className="button" onClick={() => void set(pin)}>
          {w.field.phone.pinSet}
        </button>
        {lock.hasPin && (
          <>
            <button type="button" className="button" onClick={() => void set(null)}>
              {w.field.phone.pinOff}
            </button>
            <button type="button" className="button" onClick={() => store.lockNow()}>
              {w.field.phone.pinNow}
            </button>
          </>
        )}
      </div>
    </details>
  );
}

interface LockScreenProps {
  /** Somebody signed in with a password instead of the PIN. */
  readonly onSignedIn: (me: Me) => Promise<void>;
}

/** Instead of every other screen while the app is locked. */
export function LockScreen({ onSignedIn }: LockScreenProps) {
  const w = useWords();
  const store = useStore();
  const sync = useWatched(store.sync);
  const [pin, setPin] = useState('');
  const [said, setSaid] = useState('');
  const [isForgotten, setForgotten] = useState(false);
  if (isForgotten)
    return (
      <Suspense fallback={<Loading />}>
        <SignIn
          onSignedIn={onSignedIn}
          anew={{ lead: w.field.phone.pinSignInLead, onBack: () => setForgotten(false) }}
        />
      </Suspense>
    );
  const open = async (event: FormEvent) => {
    event.preventDefault();
    const answer = await store.unlock(pin);
    setPin('');
    if (answer.answer === 'wrong')
      setSaid(answer.waitSeconds > 0 ? w.field.phone.pinWait(answer.waitSeconds) : w.field.phone.pinWrong);
  };
  return (
    <main className="alone">
      <form className="sheet form" onSubmit={(event) => void open(event)}>
        <Page title={w.field.phone.locked}>
          <PinField label={w.field.phone.pin} value={pin} onType={setPin} />
          <p role="alert" className="field-error">
            {said}
          </p>
          <button type="submit" className="button button-main thumb">
            {w.field.phone.unlock}
          </button>
          <p className="quiet">{syncWords(sync, w)}</p>
          <details>
            <summary>{w.field.phone.pinForgotten}</summary>
            <p>{w.field.phone.pinForgottenLead}</p>
            <div className="yard-buttons">
              <button type="button" className="button" onClick={() => setForgotten(true)}>
                {w.field.phone.pinSignIn}
              </button>
            </div>
          </details>
        </Page>
      </form>
    </main>
  );
}
