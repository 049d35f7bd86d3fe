import {
  type AnyFact,
  type Application,
  type Finding,
  type StationState,
  type Steps,
  type Task,
  workDone,
} from '@sillwatch/trade';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { takeStamp, visitOf } from '../shared/device.ts';
import { postJson } from './client.ts';
import type { Me, Verdict } from './types.ts';

export interface Seen {
  readonly me: Me;
  readonly state: StationState;
  readonly task: Task;
  readonly finding: Finding;
  readonly steps: Steps;
  readonly note: string;
  readonly minutes: number | null;
  readonly application: Application | null;
}

type Refusal = Extract<Verdict, { readonly verdict: 'refused' }>;

/** Sends what was seen and done; answers with the refusals, none when all of it stands in the ledger. */
export function useRecord() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: async (seen: Seen): Promise<readonly Refusal[]> => {
      const { verdicts } = await postJson<{ readonly verdicts: readonly Verdict[] }>('/api/facts', {
        facts: factsOf(seen),
      });
      return verdicts.filter((verdict) => verdict.verdict === 'refused');
    },
    onSuccess: (refusals) => (refusals.length === 0 ? client.invalidateQueries() : undefined),
  });
}

function factsOf({ me, state, task, finding, steps, note, minutes, application }: Seen): readonly AnyFact[] {
  const head = {
    ...takeStamp(),
    firm: me.firm.id,
    property: state.property,
    station: state.station,
    by: me.id,
  };
  const work = workDone(steps, minutes);
  const visit = visitOf(state.property, me.id);
  return [
    { ...head, kind: 'station seen', body: { visit, task, finding, work, application, note, photos: [] } },
  ];
}
