/** Where a search stands in its turn of cooling. */
export interface Turns {
  /**
   * How far this turn has come, 0 (hot) to 1 (cold). `spent` is the share of the budget used after `done` iterations; without it turns
   * take `horizon` iterations each.
   */
  readonly phase: (done: number, spent: number | undefined) => number;
  /** True once late in each turn and once at its end: the time to combine what was found. */
  readonly isRipe: () => boolean;
}

/** For each job that may move by itself and each group. A turn that is four times as long finds less by the end of the budget (decision 0220). */
const ITERATIONS_EACH = 250;
/** What is combined here goes on cooling for the rest of the turn. */
const RIPE = 0.9;

export function createTurns(movable: number, horizon: number): Turns {
  let count = 0;
  /** Share of the budget at which this turn began, and at which it ends as far as can be told by the pace. */
  let from = 0;
  let to = 1;
  let isOver = false;
  let wasRipe = false;
  let now = 0;

  return {
    phase: (done, spent) => {
      if (spent === undefined) {
        if (Math.floor(done / horizon) > count) begin(0);
        now = (done % horizon) / horizon;
        return now;
      }
      if (spent >= to || spent < from) begin(spent);
      if (spent > 0) {
        const iterationsLeft = ((1 - from) * done) / spent;
        to = from + (1 - from) / Math.max(1, Math.round(iterationsLeft / (ITERATIONS_EACH * movable)));
      }
      now = Math.min(1, (spent - from) / (to - from));
      return now;
    },
    isRipe: () => {
      const isNow = isOver || (now >= RIPE && !wasRipe);
      isOver = false;
      if (now >= RIPE) wasRipe = true;
      return isNow;
    },
  };

  function begin(share: number): void {
    count += 1;
    from = share;
    isOver = true;
    wasRipe = false;
  }
}
