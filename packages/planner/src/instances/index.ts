export { readMultiDepot } from './multiDepot.ts';
export { readPeriodic } from './periodic.ts';
export { readSolomon } from './solomon.ts';
export { readTsplib } from './tsplib.ts';
