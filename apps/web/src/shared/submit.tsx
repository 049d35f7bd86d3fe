import { useMutation, useQueryClient } from '@tanstack/react-query';
import { ProblemError } from '../api/client.ts';
import { FactRefusedError } from '../api/office.ts';
import { useWords, type Words } from '../words/index.ts';
import { Notice } from './notice.tsx';

/** What went wrong and what to do about it, in the server's words where it gave some. */
export function refusalWords(error: Error, w: Words): string {
  if (error instanceof FactRefusedError) return error.message;
  if (!(error instanceof ProblemError)) return `${w.problem.offline} ${w.problem.offlineRemedy}`;
  const { problem } = error;
  const places = (problem.errors ?? []).map(({ at, message }) => `${at}: ${message}.`);
  return [problem.detail ?? problem.title, ...places, problem.remedy].filter(Boolean).join(' ');
}

/** Sends a form and, when it was taken, asks anew for all that it may have changed. */
export function useSubmit<Answer, Body>(
  send: (body: Body) => Promise<Answer>,
  onDone?: (answer: Answer) => void,
) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: send,
    onSuccess: async (answer) => {
      await client.invalidateQueries();
      onDone?.(answer);
    },
  });
}

/** Says what was refused, where readers and keys find it. */
export function Refusal({ error }: { readonly error: Error | null }) {
  const w = useWords();
  if (error === null) return null;
  return (
    <div role="alert">
      <Notice title={refusalWords(error, w)} tone="late" />
    </div>
  );
}
