/**
 * Group commit: calls that arrive while a transaction runs, or in the same turn of the event loop, share the next one, so
 * that many small appends pay for one fsync. Each call still gets its own answer, after the shared commit.
 */
export interface GroupCommit<Call, Answer> {
  readonly submit: (call: Call) => Promise<Answer>;
  /** Resolves when nothing is queued or running. */
  readonly idle: () => Promise<void>;
}

export interface GroupLimits<Call> {
  readonly mostCalls: number;
  readonly mostWeight: number;
  readonly weightOf: (call: Call) => number;
}

interface Waiting<Call, Answer> {
  readonly call: Call;
  readonly resolve: (answer: Answer) => void;
  readonly reject: (error: unknown) => void;
}

/**
 * @param commit runs the calls in one transaction and answers in the same order. When it throws, nothing of it may have been
 *   stored; the calls are then run one by one, so that one call's failure does not fail its neighbours.
 */
export function createGroupCommit<Call, Answer>(
  commit: (calls: readonly Call[]) => Promise<readonly Answer[]>,
  limits: GroupLimits<Call>,
): GroupCommit<Call, Answer> {
  const queue: Waiting<Call, Answer>[] = [];
  let draining: Promise<void> | undefined;

  async function drain(): Promise<void> {
    // Lets the other calls of this turn of the event loop (requests read from other sockets) join.
    await new Promise((resolve) => setImmediate(resolve));
    while (queue.length > 0) await settle(takeGroup(queue, limits), commit);
    draining = undefined;
  }

  return {
    submit: (call) =>
      new Promise((resolve, reject) => {
        queue.push({ call, resolve, reject });
        draining ??= drain();
      }),
    idle: async () => {
      while (draining !== undefined) await draining;
    },
  };
}

function takeGroup<Call, Answer>(
  queue: Waiting<Call, Answer>[],
  { mostCalls, mostWeight, weightOf }: GroupLimits<Call>,
): readonly Waiting<Call, Answer>[] {
  let count = 0;
  let weight = 0;
  for (const { call } of queue) {
    weight += weightOf(call);
    if (count > 0 && (count >= mostCalls || weight > mostWeight)) break;
    count += 1;
  }
  return queue.splice(0, count);
}

async function settle<Call, Answer>(
  group: readonly Waiting<Call, Answer>[],
  commit: (calls: readonly Call[]) => Promise<readonly Answer[]>,
): Promise<void> {
  try {
    const answers = await commit(group.map(({ call }) => call));
    group.forEach(({ resolve, reject }, index) => {
      const answer = answers[index];
      if (answer === undefined) reject(new Error('a call of the group was not answered'));
      else resolve(answer);
    });
  } catch (error) {
    const [only] = group;
    if (only !== undefined && group.length === 1) only.reject(error);
    else for (const one of group) await settle([one], commit);
  }
}
