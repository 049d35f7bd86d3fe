import { z } from '@hono/zod-openapi';
import { addPerson, changePerson, listPeople, removePerson, renewPassword } from '../accounts/people.ts';
import { EVERY_ROLE, OFFICE, ROLES } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { type App, addRoute } from '../http/route.ts';
import { email, list, personName } from './schemas.ts';

const shortText = z.string().trim().min(1).max(100);
const details = {
  name: personName,
  role: z.enum(ROLES),
  branch: shortText.nullable(),
  licenceNumber: shortText.nullable(),
  certificationNumber: shortText.nullable(),
};
const listed = z
  .object({
    id: z.string(),
    email: z.string(),
    ...details,
    twoFactor: z.boolean(),
    removedAt: z.string().nullable(),
  })
  .openapi('ListedPerson');
const params = z.object({ id: z.string().min(1).max(100) });

/** Accounts are made by the office; nobody signs up. */
export function addPeopleRoutes(app: App, services: Services): void {
  const { accounts, deps } = services;

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/people',
      tag: 'people',
      summary: 'Everyone of the firm, former people included',
      roles: EVERY_ROLE,
      result: z.object({ people: list(listed) }),
    },
    async ({ person }) => {
      const people = await listPeople(accounts, person.firm);
      // A technician or inspector needs the names that records carry, not everybody's address.
      const isOffice = OFFICE.includes(person.role);
      return { people: isOffice ? people : people.map((one) => ({ ...one, email: '', twoFactor: false })) };
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/people',
      tag: 'people',
      summary: 'Add a person (or bring a former one back); answers with a one-time password, shown once',
      roles: OFFICE,
      body: z.object({
        ...details,
        email,
        branch: details.branch.default(null),
        licenceNumber: details.licenceNumber.default(null),
        certificationNumber: details.certificationNumber.default(null),
      }),
      result: z.object({ id: z.string(), oneTimePassword: z.string() }),
      status: 201,
    },
    async ({ person, body }) => {
      const added = await addPerson(accounts, person, body);
      deps.log.info({ by: person.id, person: added.id, role: body.role }, 'person added');
      return added;
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'patch',
      path: '/api/people/{id}',
      tag: 'people',
      summary: 'Change name, role, branch or licence of a person',
      roles: OFFICE,
      params,
      body: z.object(details).partial(),
      result: listed,
    },
    async ({ person, params: { id }, body }) => {
      const changed = await changePerson(accounts, person, id, body);
      deps.log.info({ by: person.id, person: id, role: changed.role }, 'person changed');
      return changed;
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'delete',
      path: '/api/people/{id}',
      tag: 'people',
      summary: "End a person's access at once; records keep the name",
      roles: OFFICE,
      params,
    },
    async ({ person, params: { id } }) => {
      await removePerson(accounts, person, id);
      deps.log.info({ by: person.id, person: id }, 'person removed');
      return {};
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/people/{id}/password',
      tag: 'people',
      summary: 'A new one-time password for somebody who lost theirs; ends their sessions',
      roles: OFFICE,
      params,
      result: z.object({ oneTimePassword: z.string() }),
      status: 201,
    },
    async ({ person, params: { id } }) => {
      const oneTimePassword = await renewPassword(accounts, person, id);
      deps.log.info({ by: person.id, person: id }, 'password renewed');
      return { oneTimePassword };
    },
  );
}
