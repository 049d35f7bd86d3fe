export { drawSite, layOutSite, layoutLabels } from './drawSite.ts';
export type { Box } from './frame.ts';
export { type LabelLayout, type LabelWish, overlaps, type PlacedLabel } from './labels.ts';
export {
  CONCERN_PARTS,
  DRAIN_PARTS,
  type MarkPaint,
  type MarkPart,
  PARKING_PARTS,
  STATION_MARK_KINDS,
  STATION_MARK_PARTS,
  type StationMark,
  WELL_PARTS,
} from './marks.ts';
export type {
  GroupShape,
  HatchShape,
  PathShape,
  Shape,
  SiteDrawing,
  StationTarget,
  Stroke,
  TextShape,
} from './shapes.ts';
export { drawingToSvg, FONT_FAMILY, transformOf } from './svg.ts';
export { type Medium, type Palette, type SiteView, USUAL } from './view.ts';
export { type DiagramWords, ENGLISH, SPANISH } from './words.ts';
