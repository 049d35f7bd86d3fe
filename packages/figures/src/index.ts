export * from './credibility.ts';
export * from './exactBinomial.ts';
export * from './kaplanMeier.ts';
export * from './logRank.ts';
export * from './outliers.ts';
export * from './partsNeeded.ts';
export * from './special.ts';
