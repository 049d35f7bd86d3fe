import { NEXT_LOOK, YEARLY_OWED } from '../due/tables.ts';
import type { AnyTable } from './table.ts';
import { STATION_TABLES } from './tables/index.ts';

/** Every decision table there is: those asked at a station, then those asked for the due list. */
export const RULE_TABLES: readonly AnyTable[] = [...STATION_TABLES, NEXT_LOOK, YEARLY_OWED];
