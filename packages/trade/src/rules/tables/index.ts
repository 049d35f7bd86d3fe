import type { AnyTable } from '../table.ts';
import { AUXILIARY } from './auxiliary.ts';
import { BAIT_ASIDE } from './baitAside.ts';
import { CLEAN_OUT } from './cleanOut.ts';
import { DIG_OUT } from './digOut.ts';
import { DISTURB } from './disturb.ts';
import { FINDING } from './finding.ts';
import { HOUSING } from './housing.ts';
import { IDLE_BAIT } from './idleBait.ts';
import { LEDGER_BAIT } from './ledgerBait.ts';
import { LIVE_BAIT } from './liveBait.ts';
import { MONITOR } from './monitor.ts';
import { NEXT_INTERVAL } from './nextInterval.ts';
import { OCCUPANTS_TABLE } from './occupants.ts';
import { REACH } from './reach.ts';
import { TELL_CUSTOMER } from './tellCustomer.ts';
import { YEARLY_SERVICE } from './yearlyService.ts';

/** All tables in the order in which they are asked. */
export const STATION_TABLES: readonly AnyTable[] = [
  REACH,
  FINDING,
  DISTURB,
  TELL_CUSTOMER,
  YEARLY_SERVICE,
  OCCUPANTS_TABLE,
  DIG_OUT,
  HOUSING,
  LEDGER_BAIT,
  LIVE_BAIT,
  IDLE_BAIT,
  MONITOR,
  CLEAN_OUT,
  BAIT_ASIDE,
  AUXILIARY,
  NEXT_INTERVAL,
];
