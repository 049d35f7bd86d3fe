import { DatabaseSync } from 'node:sqlite';
import type { Place } from '@sillwatch/trade';

/** What road sources answered, pair by pair, so that only new places are asked about. */
export interface TravelCache {
  /** Known pairs from one place, by the key of the other (`cacheKeyOf`). */
  read(source: string, from: Place): ReadonlyMap<string, CachedPair>;
  write(source: string, pairs: readonly PairToKeep[]): void;
  close(): void;
}

export interface CachedPair {
  readonly seconds: number;
  readonly metres: number;
}

export interface PairToKeep extends CachedPair {
  readonly from: Place;
  readonly to: Place;
}

/** Roads are built and closed: an answer is asked for anew after half a year. */
const KEPT_MILLISECONDS = 183 * 86_400_000;

/** Beside the data as `travel.db`; `:memory:` keeps it for the life of the process. It holds no more than what can be asked again. */
export function openTravelCache(file: string, now: () => number): TravelCache {
  const db = new DatabaseSync(file);
  db.exec(`PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; PRAGMA busy_timeout=5000;
    create table if not exists travel (
      source text not null, origin text not null, destination text not null,
      seconds integer not null, metres integer not null, asked_at integer not null,
      primary key (source, origin, destination)) without rowid`);
  db.prepare('delete from travel where asked_at < ?').run(now() - KEPT_MILLISECONDS);
  const select = db.prepare(
    'select destination, seconds, metres from travel where source = ? and origin = ?',
  );
  const insert = db.prepare('insert or replace into travel values (?, ?, ?, ?, ?, ?)');
  return {
    read: (source, from) =>
      new Map(
        select
          .all(source, cacheKeyOf(from))
          .map((row) => [
            String(row['destination']),
            { seconds: Number(row['seconds']), metres: Number(row['metres']) },
          ]),
      ),
    write: (source, pairs) => {
      const at = now();
      db.exec('BEGIN IMMEDIATE');
      try {
        for (const { from, to, seconds, metres } of pairs)
          insert.run(source, cacheKeyOf(from), cacheKeyOf(to), seconds, metres, at);
        db.exec('COMMIT');
      } catch (error) {
        db.exec('ROLLBACK');
        throw error;
      }
    },
    close: () => db.close(),
  };
}

/** Six decimals of a degree are a tenth of a metre. */
export function cacheKeyOf({ latitude, longitude }: Place): string {
  return `${latitude.toFixed(6)},${longitude.toFixed(6)}`;
}
