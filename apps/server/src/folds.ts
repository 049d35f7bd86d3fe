import type { Folds } from '@sillwatch/ledger';
import { checkFact, foldFirm, foldProperty } from '@sillwatch/trade';

/** What the ledger takes from the trade room, put together in the one place that may know both. */
export const FOLDS: Folds = { foldProperty, foldFirm, checkFact };
