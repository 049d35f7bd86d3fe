import { type SoilYear, soilTemperature } from '@sillwatch/figures';
import type { FirmState, SoilNumbers } from '@sillwatch/trade';
import { addDays, civilFromDay, type Day, dayFromCivil, getDay } from '@sillwatch/trade/units';
import type { DayPreference } from '../plan/dayCosts.ts';
import { type Sentence, sentence } from './sentences.ts';

/** What a firm entered for a branch, from its own weather records, as the reckoning takes it. */
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

/** The course of a year without a 29 February at that depth. */
export interface SoilCourse {
  /** degrees Celsius of each day, 1 January first: 365 of them */
  readonly celsius: readonly number[];
  /** the same at the surface */
  readonly surfaceCelsius: readonly number[];
  readonly months: readonly SoilMonth[];
  /** days on which it is warm enough; 0 = never, 365 = always */
  readonly warmDays: number;
  /** first and last of them, `MM-DD`; the last may come before the first, over the turn of the year; null = never or always */
  readonly season: { readonly from: string; readonly to: string } | null;
  readonly says: Sentence;
}

const DAYS = 365;
const A_COMMON_YEAR = 2001;
const FIRST_DAY = dayFromCivil(A_COMMON_YEAR, 1, 1);
const MM2_PER_M2 = 1e6;

/** The numbers of a branch as the reckoning takes them: half a year lies between the coldest day and the warmest. */
export function toSoilSeason(numbers: SoilNumbers): SoilSeason {
  const coldest = getDay(`${A_COMMON_YEAR}-${numbers.coldestOn}`) - FIRST_DAY + 1;
  return {
    year: {
      meanCelsius: numbers.meanCelsius,
      amplitudeCelsius: numbers.amplitudeCelsius,
      warmestDayOfYear: coldest + DAYS_IN_YEAR / 2,
      diffusivity: numbers.diffusivityMm2PerSecond / MM2_PER_M2,
    },
    depthMetres: numbers.depthMetres,
    forageFromCelsius: numbers.forageFromCelsius,
  };
}

const DAYS_IN_YEAR = 365.25;

/** The course of a year, month by month. */
export function soilMonths({ year, depthMetres, forageFromCelsius }: SoilSeason): readonly SoilMonth[] {
  return Array.from({ length: 12 }, (_, at) => {
    const middle = dayFromCivil(A_COMMON_YEAR, at + 1, 15) - FIRST_DAY + 1;
    const celsius = soilTemperature(year, depthMetres, middle);
    return { month: at + 1, celsius, forages: celsius >= forageFromCelsius };
  });
}

/** The year day by day, with the season in which termites forage; a sinusoid is above a level once a year at most, so it is one stretch. */
export function soilCourse(season: SoilSeason): SoilCourse {
  const { year, depthMetres, forageFromCelsius } = season;
  const at = (metres: number): readonly number[] =>
    Array.from({ length: DAYS }, (_, day) => soilTemperature(year, metres, day + 1));
  const celsius = at(depthMetres);
  const isWarm = celsius.map((one) => one >= forageFromCelsius);
  const warmDays = isWarm.filter(Boolean).length;
  const isPartly = warmDays > 0 && warmDays < DAYS;
  const first = isWarm.findIndex((warm, day) => warm && isWarm[(day + DAYS - 1) % DAYS] === false);
  const found = isPartly ? { from: dayText(first), to: dayText((first + warmDays - 1) % DAYS) } : null;
  return {
    celsius,
    surfaceCelsius: at(0),
    months: soilMonths(season),
    warmDays,
    season: found,
    says:
      found === null
        ? sentence(warmDays === 0 ? 'soil never warm' : 'soil always warm')
        : sentence('soil warm', { from: found.from, to: found.to, days: warmDays }),
  };
}

/** `MM-DD` of the day that comes so many after 1 January. */
function dayText(after: number): string {
  const { month, dayOfMonth } = civilFromDay(addDays(FIRST_DAY, after));
  return `${String(month).padStart(2, '0')}-${String(dayOfMonth).padStart(2, '0')}`;
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

/** What the planner of a branch likes; undefined where nobody entered a season, and then every day of a window is as good. */
export function soilPreferenceOf(firm: FirmState, branch: string): DayPreference | undefined {
  const numbers = firm.soilSeasons[branch];
  if (numbers === undefined) return undefined;
  const season = toSoilSeason(numbers);
  return (day) => soilPreference(season, day);
}
