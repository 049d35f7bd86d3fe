import type { MoveResult } from '@sillwatch/rounds';
import fc from 'fast-check';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { Cell } from '../src/api/plans.ts';
import { drawLegs, MARKS_APART, pressApart } from '../src/desk/rounds/legs.ts';
import { boxOf, isCrossed, LETTER, meets, placeLabels } from '../src/desk/rounds/mapLabels.ts';
import { signOf } from '../src/desk/rounds/personSign.ts';
import { createTries, type Tried } from '../src/desk/rounds/tries.ts';

const position = fc.record({
  latitude: fc.double({ min: 30, max: 32, noNaN: true }),
  longitude: fc.double({ min: -48, max: -46, noNaN: true }),
});

const roundOf = (person: string, properties: readonly string[]) =>
  ({
    plan: 'p',
    branch: 'b',
    person,
    day: '2026-11-26',
    startsAt: '',
    endsAt: '',
    breakMinutes: 0,
    travel: 'great circle',
    visits: properties.map((property) => ({
      visit: `visit of ${property}`,
      property,
      startsAt: '',
      endsAt: '',
      driveMinutes: 0,
      driveMetres: 0,
      works: [],
      asks: [],
      frozen: false,
    })),
  }) as const;

it('draws rounds from their start to their end, north up, inside the map, whatever its width', () => {
  fc.assert(
    fc.property(
      fc.array(position, { minLength: 2, maxLength: 8 }),
      position,
      position,
      fc.integer({ min: 280, max: 1200 }),
      (positions, start, end, width) => {
        const ids = positions.map((_, index) => `p${index}`);
        const names = new Map(
          ids.map((id, index) => [id, { name: id, town: '', position: positions[index] ?? null }]),
        );
        const drawn = drawLegs([roundOf('x', [...ids, 'no place'])], names, () => ({ start, end }), width);
        const [line] = drawn.lines;
        expect(line?.stops).toHaveLength(positions.length);
        expect(line?.points).toHaveLength(positions.length + 2);
        for (const { x, y } of [...(line?.points ?? []), ...drawn.homes]) {
          expect(x).toBeGreaterThan(0);
          expect(x).toBeLessThan(width);
          expect(y).toBeGreaterThan(0);
          expect(y).toBeLessThan(drawn.height);
        }
        const [a, b] = positions;
        const [one, two] = line?.stops ?? [];
        if (a === undefined || b === undefined || one === undefined || two === undefined)
          throw new Error('no stops');
        if (a.latitude > b.latitude) expect(one.y).toBeLessThanOrEqual(two.y);
        if (a.longitude < b.longitude) expect(one.x).toBeLessThanOrEqual(two.x);
      },
    ),
  );
});

it('draws a round without a known start as its visits alone, and nothing where no place is known', () => {
  const names = new Map([['a', { name: 'a', town: '', position: { latitude: 31, longitude: -47 } }]]);
  const drawn = drawLegs([roundOf('x', ['a'])], names, () => undefined, 600);
  expect(drawn.lines[0]?.points).toHaveLength(1);
  expect(drawn.homes).toEqual([]);
  expect(drawLegs([roundOf('x', ['b'])], names, () => undefined, 600).lines).toEqual([]);
});

it('writes names inside the map, over no mark and no other name; the first one gets room if there is any', () => {
  const size = { width: 600, height: 400 };
  const marks = fc.array(
    fc.record({ x: fc.integer({ min: 20, max: 580 }), y: fc.integer({ min: 20, max: 380 }) }),
    { minLength: 1, maxLength: 30 },
  );
  fc.assert(
    fc.property(marks, fc.integer({ min: 1, max: 22 }), (places, length) => {
      const wanted = places.map((place, index) => ({
        ...place,
        id: String(index),
        text: 'x'.repeat(length),
        radius: 13,
      }));
      const labels = placeLabels(wanted, wanted, size);
      const boxes = labels.map((label) => boxOf(label, label.text.length * LETTER));
      boxes.forEach((box, index) => {
        expect(box.left).toBeGreaterThanOrEqual(0);
        expect(box.right).toBeLessThanOrEqual(size.width);
        expect(box.top).toBeGreaterThanOrEqual(0);
        expect(box.bottom).toBeLessThanOrEqual(size.height);
        for (const other of boxes.slice(index + 1)) expect(meets(box, other)).toBe(false);
        for (const { x, y } of places)
          expect(meets(box, { left: x - 13, right: x + 13, top: y - 13, bottom: y + 13 })).toBe(false);
      });
      if (places.length === 1) expect(labels).toHaveLength(1);
    }),
  );
});

it('writes a name over no leg but the one that is asked for', () => {
  const size = { width: 300, height: 200 };
  const name = { id: 'a', text: 'Invented', x: 150, y: 100, radius: 13 };
  const legs = [{ from: { x: 150, y: 100 }, to: { x: 300, y: 100 } }];
  const [free] = placeLabels([name], [name], size, legs);
  expect(free?.x).toBeLessThan(150);
  expect(legs.some((leg) => isCrossed(boxOf(free ?? name, 8 * LETTER), leg))).toBe(false);
  const everywhere = [-60, -40, -20, 0, 20, 40, 60].map((down) => ({
    from: { x: 0, y: 100 + down },
    to: { x: 300, y: 100 + down + 1 },
  }));
  expect(placeLabels([name], [name], size, everywhere)).toEqual([]);
  expect(placeLabels([{ ...name, isAsked: true }], [name], size, everywhere)).toHaveLength(1);
});

it('knows a leg that crosses a box from one that passes it', () => {
  const box = { left: 10, top: 10, right: 20, bottom: 20 };
  const leg = (x1: number, y1: number, x2: number, y2: number) =>
    isCrossed(box, { from: { x: x1, y: y1 }, to: { x: x2, y: y2 } });
  expect(leg(0, 15, 30, 15)).toBe(true);
  expect(leg(0, 0, 30, 30)).toBe(true);
  expect(leg(15, 15, 16, 16)).toBe(true);
  expect(leg(0, 5, 30, 5)).toBe(false);
  expect(leg(0, 15, 9, 15)).toBe(false);
  expect(leg(0, 18, 12, 30)).toBe(false);
  // From along the leg in fine steps: the same answer.
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 0, max: 30 }), { minLength: 4, maxLength: 4 }),
      ([x1 = 0, y1 = 0, x2 = 0, y2 = 0]) => {
        const inside = Array.from({ length: 3001 }, (_, step) => step / 3000).some((share) => {
          const x = x1 + (x2 - x1) * share;
          const y = y1 + (y2 - y1) * share;
          return x > box.left && x < box.right && y > box.top && y < box.bottom;
        });
        if (inside) expect(leg(x1, y1, x2, y2)).toBe(x1 !== x2 || y1 !== y2 || inside);
        else if (leg(x1, y1, x2, y2)) {
          // Along an edge or over a corner only.
          const near = Array.from({ length: 3001 }, (_, step) => step / 3000).some((share) => {
            const x = x1 + (x2 - x1) * share;
            const y = y1 + (y2 - y1) * share;
            return x > 9.98 && x < 20.02 && y > 9.98 && y < 20.02;
          });
          expect(near).toBe(true);
        }
      },
    ),
  );
});

it('presses marks apart that cover each other, inside the map, and leaves alone what does not', () => {
  const size = { width: 600, height: 400 };
  const place = fc.record({ x: fc.integer({ min: 30, max: 570 }), y: fc.integer({ min: 30, max: 370 }) });
  const distance = (a: { x: number; y: number }, b: { x: number; y: number }) =>
    Math.hypot(a.x - b.x, a.y - b.y);
  fc.assert(
    fc.property(fc.array(place, { maxLength: 10 }), fc.boolean(), (places, isHeap) => {
      const given = isHeap ? places.map(() => ({ x: 300, y: 200 })) : places;
      const marks = pressApart(given, [], size);
      expect(pressApart(given, [], size)).toEqual(marks);
      marks.forEach((mark, index) => {
        expect(mark.x).toBeGreaterThan(0);
        expect(mark.x).toBeLessThan(size.width);
        expect(mark.y).toBeGreaterThan(0);
        expect(mark.y).toBeLessThan(size.height);
        for (const other of marks.slice(index + 1))
          expect(distance(mark, other)).toBeGreaterThan(MARKS_APART - 4);
      });
      const areApart = given.every((a, n) =>
        given.slice(n + 1).every((b) => distance(a, b) > MARKS_APART + 2),
      );
      if (areApart)
        marks.forEach((mark, index) => {
          expect(distance(mark, given[index] ?? mark)).toBeLessThan(2);
        });
    }),
  );
});

it('tells 36 technicians apart without colour', () => {
  const people = Array.from({ length: 36 }, (_, index) => ({ person: `p${index}`, name: '' }));
  const signs = people.map(({ person }) => signOf({ people }, person));
  expect(new Set(signs.map(({ shape, dash }) => `${shape} ${dash}`)).size).toBe(36);
});

const A: Cell = { day: '2026-12-01', person: 'a' };
const B: Cell = { day: '2026-12-02', person: 'b' };

function held() {
  const asked: {
    readonly cell: Cell;
    readonly signal: AbortSignal;
    readonly tell: (error?: Error) => void;
  }[] = [];
  let news = 0;
  const tries = createTries(
    (cell, signal) =>
      new Promise<MoveResult>((resolve, reject) => {
        const move = { visit: cell.day } as MoveResult;
        asked.push({ cell, signal, tell: (error) => (error === undefined ? resolve(move) : reject(error)) });
        signal.addEventListener('abort', () => reject(new Error('broken off')));
      }),
    () => {
      news += 1;
    },
  );
  return { tries, asked, news: () => news };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

it('asks about a cell that one stays over, once, and breaks off when one goes on', async () => {
  const { tries, asked, news } = held();
  tries.look(A);
  await vi.advanceTimersByTimeAsync(20);
  tries.look(B);
  await vi.advanceTimersByTimeAsync(200);
  expect(asked.map(({ cell }) => cell)).toEqual([B]);
  tries.look(A);
  expect(asked[0]?.signal.aborted).toBe(true);
  await vi.advanceTimersByTimeAsync(200);
  asked[1]?.tell();
  await vi.advanceTimersByTimeAsync(0);
  expect(news()).toBe(1);
  expect(tries.look(A)).toMatchObject({ state: 'told', move: { visit: A.day } });
  // What was broken off is not taken for an answer; what was told is not asked again.
  expect(tries.look(B)).toEqual({ state: 'asking' });
  await vi.advanceTimersByTimeAsync(200);
  expect(tries.look(A).state).toBe('told');
  expect(asked.map(({ cell }) => cell)).toEqual([B, A, B]);
});

it('settles for the cell that the visit is let go over, at once, and keeps a refusal', async () => {
  const { tries, asked } = held();
  let told: Tried | undefined;
  void tries.settle(A).then((tried) => {
    told = tried;
  });
  await vi.advanceTimersByTimeAsync(0);
  expect(asked).toHaveLength(1);
  asked[0]?.tell(new Error('nobody drives'));
  await vi.advanceTimersByTimeAsync(0);
  expect(told).toMatchObject({ state: 'refused', error: new Error('nobody drives') });
  expect((await tries.settle(A)).state).toBe('refused');
  expect(asked).toHaveLength(1);
  tries.end();
});
