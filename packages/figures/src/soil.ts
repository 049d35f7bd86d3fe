/** Yearly course of the temperature at the soil's surface, and how heat goes down. */
export interface SoilYear {
  /** degrees Celsius */
  readonly meanCelsius: number;
  /** half of warmest less coldest, degrees, 0 or more */
  readonly amplitudeCelsius: number;
  /** day of the year (1 to 365) on which the surface is warmest */
  readonly warmestDayOfYear: number;
  /** thermal diffusivity, square metres a second, more than 0 */
  readonly diffusivity: number;
}

const SECONDS_IN_YEAR = 365.25 * 86_400;
const DAYS_IN_YEAR = 365.25;

/** Depth in metres at which a wave of this period (seconds) has fallen to 1/e: the square root of 2 x diffusivity / angular frequency. */
export function dampingDepthMetres(diffusivity: number, periodSeconds = SECONDS_IN_YEAR): number {
  if (!(diffusivity > 0) || !(periodSeconds > 0))
    throw new RangeError(`diffusivity and period are more than 0, not ${diffusivity} and ${periodSeconds}`);
  return Math.sqrt((diffusivity * periodSeconds) / Math.PI);
}

/**
 * Soil temperature in degrees Celsius at a depth (metres, 0 = surface, down is positive) on a day of the year: a sinusoid that falls and lags with
 * depth, T(z, t) = mean + A exp(-z/d) cos(w (t - warmest) - z/d) (as in textbooks of soil physics; Hillel 1998, from memory). Even
 * soil, no snow, no rain: a preference in planning, never a reason to skip a visit.
 */
export function soilTemperature(year: SoilYear, depthMetres: number, dayOfYear: number): number {
  if (!(depthMetres >= 0)) throw new RangeError(`a depth is 0 or more metres, not ${depthMetres}`);
  const falls = depthMetres / dampingDepthMetres(year.diffusivity);
  const turn = (2 * Math.PI * (dayOfYear - year.warmestDayOfYear)) / DAYS_IN_YEAR;
  return year.meanCelsius + year.amplitudeCelsius * Math.exp(-falls) * Math.cos(turn - falls);
}
