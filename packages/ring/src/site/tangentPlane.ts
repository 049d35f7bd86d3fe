import type { Georeference, Point } from './model.ts';

/** WGS 84: equatorial radius in metres and first eccentricity squared (NGA.STND.0036, 2014). */
const EQUATORIAL_RADIUS_METRES = 6_378_137;
const FLATTENING = 1 / 298.257_223_563;
const ECCENTRICITY_SQUARED = FLATTENING * (2 - FLATTENING);
const RADIANS = Math.PI / 180;

/** Turns degrees (WGS 84) into metres of the plane that touches the ellipsoid at the site's origin, and back. */
export interface TangentPlane {
  toMetres(longitude: number, latitude: number): Point;
  toDegrees(at: Point): { readonly longitude: number; readonly latitude: number };
}

/**
 * East and north are taken along the parallel and the meridian of the origin with the radii of curvature there.
 * Over 1 km from the origin the error is under 0.2 m at 50 degrees, over 100 m under 2 mm; distances between the
 * stations of one property are far below it. There and back is exact to rounding.
 */
export function tangentPlane({ longitude, latitude }: Georeference): TangentPlane {
  const sine = Math.sin(latitude * RADIANS);
  const root = Math.sqrt(1 - ECCENTRICITY_SQUARED * sine * sine);
  const meridianRadius = (EQUATORIAL_RADIUS_METRES * (1 - ECCENTRICITY_SQUARED)) / (root * root * root);
  const parallelRadius = (EQUATORIAL_RADIUS_METRES / root) * Math.cos(latitude * RADIANS);
  const eastMetresPerDegree = parallelRadius * RADIANS;
  const northMetresPerDegree = meridianRadius * RADIANS;
  return {
    toMetres: (east, north) => ({
      x: shortWay(east - longitude) * eastMetresPerDegree,
      y: (north - latitude) * northMetresPerDegree,
    }),
    toDegrees: ({ x, y }) => ({
      longitude: shortWay(longitude + x / eastMetresPerDegree),
      latitude: latitude + y / northMetresPerDegree,
    }),
  };
}

/** Degrees between -180 and 180: a site may lie across the antimeridian. */
function shortWay(degrees: number): number {
  return degrees > 180 ? degrees - 360 : degrees < -180 ? degrees + 360 : degrees;
}
