import { generateDemo } from '@sillwatch/demo';
import { foldProperty, getDay } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import { layOut } from '../src/desk/time/layout.ts';
import { ringInTime } from '../src/desk/time/ringInTime.ts';

const demo = generateDemo({ seed: 3, today: getDay('2026-11-25'), properties: 8 });
const byProperty = Map.groupBy(demo.facts, ({ property }) => property);

/** Every structure of the invented firm, unrolled. */
function* rings() {
  for (const [property, facts] of byProperty) {
    if (property === null) continue;
    const state = foldProperty(facts);
    for (const structure of state.structures)
      yield { state, structure, ring: ringInTime(structure, state.stations, facts) };
  }
}

describe('the ring in time', () => {
  it('holds every look of every station of the structure, on its day', () => {
    let looks = 0;
    for (const { state, structure, ring } of rings()) {
      const here = state.stations.filter((station) => station.structure === structure.structure);
      expect(ring.columns.map(({ station }) => station).toSorted()).toEqual(
        here.map(({ station }) => station).toSorted(),
      );
      for (const { day } of ring.looks) expect(ring.days).toContain(day);
      for (const station of here) {
        // A station set anew starts its history afresh, in the state as it stands.
        const all = ring.looks.filter((look) => look.station === station.station);
        const own = all.slice(all.findLastIndex(({ said }) => said === 'lost') + 1);
        const opened = own.filter(({ said }) => ['feeding', 'hit', 'signs', 'nothing'].includes(said));
        expect(opened.at(-1)?.day ?? null).toBe(station.lastOpenedOn);
        const yearly = own.filter((look) => look.yearly);
        expect(yearly.at(-1)?.day ?? null).toBe(station.lastYearlyOn);
        // Bait still in the picture is bait in the station.
        const isBaited = ring.baited.some((one) => one.station === station.station && one.to === null);
        expect(isBaited).toBe(station.slots.some(({ insert }) => insert === 'bait'));
      }
      looks += ring.looks.length;
    }
    expect(looks).toBeGreaterThan(500);
  });

  it('keeps columns apart and in order along the wall, on any screen', () => {
    for (const { ring } of rings()) {
      for (const room of [0, 340, 1200]) {
        const { x, width } = layOut(ring, room);
        const places = ring.columns.map(({ station }) => x.get(station) ?? Number.NaN);
        for (const [index, place] of places.entries()) {
          expect(place).toBeGreaterThan(100);
          expect(place).toBeLessThan(width);
          if (index > 0) expect(place - (places[index - 1] ?? 0)).toBeGreaterThanOrEqual(25.9);
        }
      }
    }
  });
});
