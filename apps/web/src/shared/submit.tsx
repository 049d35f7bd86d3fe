import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useWords } from '../words/index.ts';
import { Notice } from './notice.tsx';
import { refusalWords } from './refusalWords.ts';

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
