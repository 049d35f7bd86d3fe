export {
  canonical,
  compareSites,
  type Difference,
  isSamePlace,
  isSameThing,
  type Rebase,
  rebase,
} from './compare.ts';
export { beginDraft, type Draft, readDraft, recordEdit, redo, siteOfDraft, undo } from './draft.ts';
export { type EarthFit, type EarthMark, fitEarth, placeByBearing, placeByMarks } from './earth.ts';
export {
  applyEdit,
  DEEDS,
  type Deed,
  EDIT_FAULTS,
  type Edit,
  type EditFault,
  type EditResult,
} from './edit.ts';
export {
  ahead,
  type CloseResult,
  closePen,
  closureOf,
  headingOf,
  NO_PEN,
  type Pen,
  type PenResult,
  penRuns,
  penTo,
  withoutLast,
} from './pen.ts';
export {
  addCourtyard,
  bringIn,
  describeThing,
  drawThing,
  lastNumber,
  nearestStructure,
  removeThing,
  type StationPlace,
  takeOverStations,
} from './pieces.ts';
export {
  type Corner,
  endsOf,
  middleOf,
  moveCorner,
  moveThing,
  removeCorner,
  setWallLength,
  splitWall,
  turnThing,
  type Wall,
} from './reshape.ts';
export {
  type Guide,
  guidesFrom,
  guidesRound,
  SNAPS,
  type SnapKind,
  type Snapped,
  type SnapQuestion,
  snap,
} from './snap.ts';
export {
  findThing,
  LAYERS,
  type Layer,
  listThings,
  mapPoints,
  movedSite,
  PARKING_ID,
  type Parking,
  putThing,
  type Ring,
  ringsOf,
  type Thing,
  takeThing,
  withRings,
} from './things.ts';
