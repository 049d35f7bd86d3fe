import { Link } from 'wouter';
import { useWords, type Words } from '../../words/index.ts';
import type { SyncStatus } from '../store/port.ts';
import { useWatched } from '../store/useWatched.ts';
import { useYard } from '../yard.tsx';

/** What waits on this phone and when the last of it went out, always in sight. */
export function SyncLine() {
  const w = useWords();
  const { store, isPractice } = useYard();
  const sync = useWatched(store.sync);
  if (isPractice) return <p className="sync sync-practice">{w.field.sync.practice}</p>;
  const isTrouble = sync.refused > 0 || (sync.problem !== null && sync.problem !== 'unreachable');
  return (
    <Link
      href="/phone"
      className={isTrouble ? 'sync sync-trouble' : sync.waiting > 0 ? 'sync sync-waiting' : 'sync'}
    >
      {syncWords(sync, w)}
    </Link>
  );
}

export function syncWords(sync: SyncStatus, w: Words): string {
  const s = w.field.sync;
  const isEmpty = sync.waiting === 0 && sync.lastSentAt === null;
  return [
    ...(sync.refused > 0 ? [s.refused(sync.refused)] : []),
    // Nothing has gone and nothing waits: "all sent" would be said of nothing.
    sync.waiting > 0 ? s.waiting(sync.waiting) : isEmpty ? s.nothing : s.allSent,
    ...(sync.photosWaiting > 0 ? [s.photos(sync.photosWaiting)] : []),
    ...(sync.running
      ? [s.sending]
      : !sync.online
        ? [s.offline]
        : sync.lastSentAt !== null
          ? [s.lastSent(w.format.time(new Date(sync.lastSentAt)))]
          : isEmpty
            ? []
            : [s.never]),
  ].join(' · ');
}
