import { z } from '@hono/zod-openapi';

/** The envelope of a fact; what its kind asks of the body is checked where facts are stored. */
export const factSchema = z
  .object({
    id: z.string().openapi({ description: 'UUIDv7, RFC 9562' }),
    firm: z.string(),
    property: z.string().nullable(),
    station: z.string().nullable(),
    by: z.string().openapi({ description: 'account id of who recorded it' }),
    device: z.string(),
    seq: z.number().int().openapi({ description: 'counts up by one for each fact of a device, from 1' }),
    at: z.string().openapi({ description: 'RFC 3339 with offset: when it was seen or done' }),
    clock: z.string().openapi({ description: 'hybrid logical clock; sorts as text' }),
    kind: z.string(),
    body: z.unknown(),
    receipt: z.object({ seq: z.number().int(), receivedAt: z.string() }).optional(),
  })
  .openapi('Fact');
