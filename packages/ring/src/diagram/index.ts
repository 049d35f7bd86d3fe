export { drawSite, layoutLabels } from './drawSite.ts';
export type { Box } from './frame.ts';
export { type LabelLayout, type LabelWish, overlaps, type PlacedLabel } from './labels.ts';
export {
  CONCERN_PARTS,
  DRAIN_PARTS,
  type MarkPaint,
  type MarkPart,
  STATION_MARK_KINDS,
  STATION_MARK_PARTS,
  type StationMark,
  WELL_PARTS,
} from './marks.ts';
export { type DiagramWords, ENGLISH, type Medium, type SiteView } from './view.ts';
