export {
  type Audit,
  type AuditedStation,
  auditRing,
  type Change,
} from './audit/auditRing.ts';
export { BAND_TOLERANCE_METRES } from './audit/locateStation.ts';
export * from './diagram/index.ts';
export * from './edit/index.ts';
export * from './length/index.ts';
export { type AuxiliaryRequest, type AuxiliaryResult, placeAuxiliaries } from './placement/auxiliary.ts';
export * from './placement/model.ts';
export { proposeStations } from './placement/proposeStations.ts';
export {
  checkSite,
  FARTHEST_FROM_ORIGIN_METRES,
  LARGEST_STRUCTURE_METRES,
  SHORTEST_WALL_METRES,
  SITE_FAULTS,
  type SiteFault,
  type SiteProblem,
  SMALLEST_STRUCTURE_METRES,
} from './site/checkSite.ts';
export * from './site/model.ts';
export {
  type GeoJsonFault,
  type GeoJsonRefusal,
  type SiteResult,
  siteFromGeoJson,
} from './site/siteFromGeoJson.ts';
export {
  type Feature,
  type FeatureCollection,
  type Geometry,
  NOWHERE,
  type Position,
  siteToGeoJson,
} from './site/siteToGeoJson.ts';
export { type TangentPlane, tangentPlane } from './site/tangentPlane.ts';
export * from './site/unroll.ts';
export * from './traverse/index.ts';
export * from './walk/index.ts';
