export * from './exactBinomial.ts';
export * from './kaplanMeier.ts';
export * from './logRank.ts';
export * from './partsNeeded.ts';
export * from './special.ts';
