import { describe, expect, it } from 'vitest';
import { CORRECTION, correctedId, readCorrections } from '../../src/index.ts';
import { createBook, opened } from '../state/book.ts';

/** A look with corrections of it, one a day; each says the body given, null = withdrawn. */
function correctedLook(...bodies: readonly unknown[]) {
  const book = createBook();
  const seen = book.see('s1', '2024-04-08T09:00:00-04:00', opened({ termites: 'none' }));
  const corrections = bodies.map((body, day) =>
    book.add(CORRECTION, null, `2024-05-0${day + 1}T09:00:00-04:00`, {
      corrects: seen.id,
      why: 'misread',
      body,
      at: null,
    }),
  );
  return { book, seen, corrections };
}

describe('which correction stands', () => {
  it('none, while nothing names the fact', () => {
    const { seen, corrections } = correctedLook();
    const read = readCorrections(corrections);
    expect(read.findStanding(seen)).toBeUndefined();
    expect(read.of(seen.id)).toEqual([]);
  });

  it('the last recorded; all that name the fact are told, the last first', () => {
    const { seen, corrections } = correctedLook(null, null);
    const read = readCorrections(corrections);
    expect(read.of(seen.id)).toEqual(corrections.toReversed());
    expect(read.findStanding(seen)).toEqual({ correction: corrections[1], body: null, at: null });
  });

  it('the one before, where what the last one says is no look at a station', () => {
    const { seen, corrections } = correctedLook(null, { text: 'not a look' });
    expect(readCorrections(corrections).findStanding(seen)?.correction).toBe(corrections[0]);
  });

  it('the one before, where the last was withdrawn in turn', () => {
    const { book, seen, corrections } = correctedLook(seenAgain(), null);
    const [, last] = corrections;
    const withdrawal = book.add(CORRECTION, null, '2024-06-01T09:00:00-04:00', {
      corrects: last?.id ?? '',
      why: 'it was right',
      body: null,
      at: null,
    });
    const read = readCorrections([...corrections, withdrawal]);
    expect(read.findStanding(seen)).toMatchObject({ correction: corrections[0], body: seenAgain() });
  });
});

function seenAgain(): unknown {
  return createBook().see('s1', '2024-04-08T09:00:00-04:00', opened({ termites: 'live on monitor' })).body;
}

describe('the fact that a correction names', () => {
  it.each([
    [{ kind: CORRECTION, body: { corrects: 'a' } }, 'a'],
    [{ kind: CORRECTION, body: { corrects: 7 } }, undefined],
    [{ kind: CORRECTION, body: null }, undefined],
    [{ kind: CORRECTION }, undefined],
    [{ kind: 'noted', body: { corrects: 'a' } }, undefined],
  ])('of %j is %j', (fact, id) => {
    expect(correctedId(fact)).toBe(id);
  });
});
