import { useMutation, useQueryClient } from '@tanstack/react-query';
import { ProblemError } from '../../api/client.ts';
import type { PlanJob } from '../../api/plans.ts';

/** Changes a plan; where somebody else has changed it meanwhile, the page shows theirs before one repeats one's own. */
export function usePlanChange<Answer, Body>(
  { id }: Pick<PlanJob, 'id'>,
  send: (body: Body) => Promise<Answer>,
  onDone?: (answer: Answer, body: Body) => void,
) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: send,
    onSuccess: async (answer, body) => {
      await client.invalidateQueries();
      onDone?.(answer, body);
    },
    onError: async (error) => {
      if (error instanceof ProblemError && error.problem.code === 'plan changed')
        await client.invalidateQueries({ queryKey: ['plan', id] });
    },
  });
}
