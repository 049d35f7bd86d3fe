import { z } from '@hono/zod-openapi';
import { ROLES } from '../accounts/roles.ts';
import type { Person } from '../http/context.ts';

/** Lists go out as they are held: readonly. */
export function list<T extends z.ZodType>(item: T) {
  return z.array(item).readonly();
}

/** `YYYY-MM-DD`; that the day exists is checked where it is read. */
export const dayText = z
  .string()
  .regex(/^\d{4}-\d{2}-\d{2}$/, 'a day is written YYYY-MM-DD')
  .openapi({ format: 'date', example: '2026-11-25' });

export const email = z
  .email()
  .max(200)
  .transform((text) => text.toLowerCase());

export const personName = z.string().trim().min(1).max(120);

export const personSchema = z
  .object({
    id: z.string(),
    name: z.string(),
    email: z.string(),
    role: z.enum(ROLES),
    branch: z.string().nullable(),
    licenceNumber: z.string().nullable(),
    certificationNumber: z.string().nullable(),
    twoFactor: z.boolean(),
    mustChangePassword: z.boolean(),
    firm: z.object({ id: z.string(), name: z.string() }),
    /** An invented firm, open on this machine only: screens say so. */
    demo: z.boolean(),
  })
  .openapi('Me');

export function showPerson(
  { firm, firmName, ...person }: Person,
  demo: boolean,
): z.input<typeof personSchema> {
  return { ...person, firm: { id: firm, name: firmName }, demo };
}
