import { type SoilYear, soilTemperature } from '@sillwatch/figures';
import { civilFromDay, type Day, dayFromCivil } from '@sillwatch/trade/units';

/** What a firm enters for a branch, from its own weather records. Absent = off, as it is by default. */
export interface SoilSeason {
  readonly year: SoilYear;
  /** metres */
  readonly depthMetres: number;
  /** degrees Celsius at which the firm takes termites to forage at this depth: its own judgement, no default */
  readonly forageFromCelsius: number;
}

export interface SoilMonth {
  readonly month: number;
  /** at the middle of the month */
  readonly celsius: number;
  readonly forages: boolean;
}

/** The course of a year at that depth, month by month. */
export function soilMonths({ year, depthMetres, forageFromCelsius }: SoilSeason): readonly SoilMonth[] {
  return Array.from({ length: 12 }, (_, at) => {
    const middle = dayFromCivil(2001, at + 1, 15) - dayFromCivil(2001, 1, 1) + 1;
    const celsius = soilTemperature(year, depthMetres, middle);
    return { month: at + 1, celsius, forages: celsius >= forageFromCelsius };
  });
}

/**
 * How gladly a visit is planned on this day, 0 to 1: 1 while termites forage, less the farther the soil is from it (0 at 10 degrees under). A preference
 * among days that are allowed anyway; it never moves work out of its window.
 */
export function soilPreference({ year, depthMetres, forageFromCelsius }: SoilSeason, day: Day): number {
  const { year: ofYear } = civilFromDay(day);
  const dayOfYear = day - dayFromCivil(ofYear, 1, 1) + 1;
  const missing = forageFromCelsius - soilTemperature(year, depthMetres, dayOfYear);
  return Math.max(0, Math.min(1, 1 - missing / 10));
}
