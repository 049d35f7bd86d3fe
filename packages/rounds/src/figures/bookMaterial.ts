import type { Day } from '@sillwatch/trade/units';
import { compareKeys } from './compareKeys.ts';
import type { FigureSubject } from './riskColumns.ts';

/** What one property took in a time. */
export interface TimeAndMaterial {
  readonly property: string;
  readonly stations: number;
  readonly visits: number;
  /** from arrival to closing, of visits whose times are known */
  readonly minutes: number;
  readonly visitsWithMinutes: number;
  /** part -> pieces */
  readonly parts: Readonly<Record<string, number>>;
  /** grams of product applied */
  readonly baitGrams: number;
}

/** Time and material by property, after `from` up to and including `to`; the most minutes first. */
export function timeAndMaterial(
  subjects: readonly FigureSubject[],
  from: Day,
  to: Day,
): readonly TimeAndMaterial[] {
  const during = (day: Day): boolean => day > from && day <= to;
  return subjects
    .map(({ history, state }) => {
      const parts = new Map<string, number>();
      let baitGrams = 0;
      const visited = new Set<string>();
      for (const { day, body } of history.looks) {
        if (!during(day)) continue;
        visited.add(body.visit);
        baitGrams += body.application?.grams ?? 0;
        for (const [part, count] of Object.entries(body.work.partsUsed))
          parts.set(part, (parts.get(part) ?? 0) + count);
      }
      for (const { day, application } of history.installations)
        if (during(day)) baitGrams += application?.grams ?? 0;
      const closed = history.visits.filter((visit) => during(visit.day));
      for (const { visit } of closed) visited.add(visit);
      const timed = closed.flatMap(({ minutes }) => (minutes === null ? [] : [minutes]));
      return {
        property: history.property,
        stations: state.stations.filter((one) => one.inService).length,
        visits: visited.size,
        minutes: timed.reduce((sum, one) => sum + one, 0),
        visitsWithMinutes: timed.length,
        parts: Object.fromEntries([...parts].sort(([a], [b]) => compareKeys(a, b))),
        baitGrams,
      };
    })
    .sort((a, b) => b.minutes - a.minutes || compareKeys(a.property, b.property));
}
