export { buildCosts, type CostTable, costOfOrder, type WalkEnd } from './costs.ts';
export { exactWalk, MOST_EXACT } from './exactWalk.ts';
export { type Barrier, NARROWEST_GAP_METRES, type Opening, type WalkGround } from './ground.ts';
export { planWalk, type Walk, type WalkLeg, type WalkRequest, type WalkStop } from './planWalk.ts';
export { type SearchOptions, shortestWalk, type WalkOrder } from './shortestWalk.ts';
export { type SiteWalkOptions, siteToGround, walkSite } from './walkSite.ts';
