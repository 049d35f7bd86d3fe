import type { AnyFact } from '@sillwatch/trade';
import { z } from 'zod';

/** The envelope that the screening leans on; the ledger's own check looks at the rest, body included. */
const envelope = z.looseObject({
  id: z.string().min(1),
  firm: z.string().min(1),
  property: z.string().min(1).nullable(),
  station: z.string().min(1).nullable(),
  by: z.string().min(1),
  device: z.string().min(1),
  seq: z.number().int().min(0),
  at: z.string(),
  clock: z.string(),
  kind: z.string().min(1),
  body: z.unknown(),
});

export type Envelope =
  | { readonly fact: AnyFact; readonly id: string }
  | { readonly fact: undefined; readonly id: string; readonly detail: string };

export function factEnvelope(value: unknown): Envelope {
  const result = envelope.safeParse(value);
  const id = idOf(value);
  if (result.success) {
    // A receipt is the server's to give.
    const { receipt: _receipt, ...fact } = result.data;
    return { fact, id };
  }
  const detail = result.error.issues
    .slice(0, 5)
    .map((issue) => `${issue.path.join('.') || 'fact'}: ${issue.message}`)
    .join('; ');
  return { fact: undefined, id, detail };
}

function idOf(value: unknown): string {
  if (typeof value !== 'object' || value === null || !('id' in value)) return '';
  return typeof value.id === 'string' ? value.id : '';
}
