import {
  BAIT_LEFT,
  type Finding,
  HOUSING_CONDITIONS,
  MONITOR_CONDITIONS,
  OCCUPANTS,
  REACHES,
  TASKS,
  type Task,
  TERMITE_FINDINGS,
} from '@sillwatch/trade';
import type { CommonOptions } from '../context.ts';
import { CommandError, EXIT } from '../io.ts';

/** What was seen, as options of `steps` and `record`. */
export interface FindingOptions extends CommonOptions {
  readonly task: string;
  readonly reach: string;
  readonly why?: string;
  readonly termites: string;
  readonly baitLeft: string;
  readonly monitor: string;
  readonly housing: string;
  readonly occupants: string;
}

/** Throws a CommandError that lists the words that are possible. */
function oneOf<const T extends string>(list: readonly T[], given: string, option: string): T {
  const found = list.find((word) => word === given.trim().toLowerCase());
  if (found !== undefined) return found;
  throw new CommandError(
    EXIT.usage,
    `--${option} ${JSON.stringify(given)} is not a word for this`,
    `Use one of: ${list.join(', ')}.`,
  );
}

export function readTask(options: FindingOptions): Task {
  return oneOf(TASKS, options.task, 'task');
}

export function readFinding(options: FindingOptions): Finding {
  const reach = oneOf(REACHES, options.reach, 'reach');
  if (reach !== 'opened') {
    if (options.why === undefined || options.why.trim() === '') {
      throw new CommandError(
        EXIT.usage,
        `a station that was ${reach} needs a reason`,
        'Say it with --why "…".',
      );
    }
    return { reach, why: options.why };
  }
  return {
    reach,
    termites: oneOf(TERMITE_FINDINGS, options.termites, 'termites'),
    baitLeft: oneOf(BAIT_LEFT, options.baitLeft, 'bait-left'),
    monitor: oneOf(MONITOR_CONDITIONS, options.monitor, 'monitor'),
    housing: oneOf(HOUSING_CONDITIONS, options.housing, 'housing'),
    occupants: oneOf(OCCUPANTS, options.occupants, 'occupants'),
  };
}
