import { useEffect, useState } from 'react';
import { Loading, Notice } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import { Screen } from './frame.tsx';

/** Most reads take a few milliseconds; only what stays away is said to be away. */
const PATIENCE_MS = 1500;

export function NotHere({ back }: { readonly back: string }) {
  const w = useWords();
  const [isAway, setAway] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setAway(true), PATIENCE_MS);
    return () => clearTimeout(timer);
  }, []);
  return (
    <Screen title={w.field.name} back={back}>
      {isAway ? <Notice title={w.field.today.notHere} /> : <Loading />}
    </Screen>
  );
}
