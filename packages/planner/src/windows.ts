import { MAX_SECONDS } from './check.ts';

/**
 * Windows by node: `open` and `close` are the outer ends; where there are several (`several` is 1) they are `windowFrom` to `windowTo` - 1
 * of `windowOpen` and `windowClose`.
 */
export interface Windows {
  readonly open: Int32Array;
  readonly close: Int32Array;
  readonly several: Uint8Array;
  readonly windowFrom: Int32Array;
  readonly windowTo: Int32Array;
  readonly windowOpen: Int32Array;
  readonly windowClose: Int32Array;
}

/** Windows that differ by day; `dayFrom` and `dayTo` are by job * `days` + day and empty where no job's windows differ. */
export interface DayWindows extends Windows {
  readonly days: number;
  readonly varies: Uint8Array;
  readonly dayFrom: Int32Array;
  readonly dayTo: Int32Array;
}

/** A copy whose nodes may be turned to the windows of one day by `setWindows`. */
export function copyWindows(windows: Windows): Windows {
  return {
    open: windows.open.slice(),
    close: windows.close.slice(),
    several: windows.several.slice(),
    windowFrom: windows.windowFrom.slice(),
    windowTo: windows.windowTo.slice(),
    windowOpen: windows.windowOpen,
    windowClose: windows.windowClose,
  };
}

/** Turns a job whose windows differ by day to those of `day`. */
export function setWindows(tables: DayWindows, live: Windows, job: number, day: number): void {
  const from = tables.dayFrom[job * tables.days + day] ?? 0;
  const to = tables.dayTo[job * tables.days + day] ?? 0;
  live.windowFrom[job] = from;
  live.windowTo[job] = to;
  live.several[job] = to - from > 1 ? 1 : 0;
  live.open[job] = to > from ? (live.windowOpen[from] ?? 0) : 0;
  live.close[job] = to > from ? (live.windowClose[to - 1] ?? 0) : MAX_SECONDS;
}

/** When service starts after arriving at `arrive`; -1 when the last window has closed. */
export function earliestStart(windows: Windows, node: number, arrive: number): number {
  if (arrive > (windows.close[node] ?? 0)) return -1;
  const opening = windows.open[node] ?? 0;
  if (windows.several[node] !== 1) return Math.max(arrive, opening);
  const end = windows.windowTo[node] ?? 0;
  for (let w = windows.windowFrom[node] ?? 0; w < end; w += 1)
    if (arrive <= (windows.windowClose[w] ?? 0)) return Math.max(arrive, windows.windowOpen[w] ?? 0);
  return -1;
}

/** The latest start of service no later than `bound`; -1 when the first window opens after it. */
export function latestStart(windows: Windows, node: number, bound: number): number {
  if (bound < (windows.open[node] ?? 0)) return -1;
  if (windows.several[node] !== 1) return Math.min(bound, windows.close[node] ?? 0);
  const first = windows.windowFrom[node] ?? 0;
  for (let w = (windows.windowTo[node] ?? 0) - 1; w >= first; w -= 1)
    if ((windows.windowOpen[w] ?? 0) <= bound) return Math.min(bound, windows.windowClose[w] ?? 0);
  return -1;
}
