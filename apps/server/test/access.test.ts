import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createIdMaker, createServer, DEFAULT_LIMITS, getDocument, ROLES, type Role } from '../src/index.ts';
import { EXAMPLES, type World } from './support/examples.ts';
import { createFacts, firstFacts } from './support/facts.ts';
import {
  type Answer,
  Client,
  FIRM,
  OTHER_FIRM,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';
import { planBranch, seedBranch } from './support/plans.ts';
import { ROLE_TABLE, rolesMeant } from './support/roleTable.ts';

/** The mark that every id, name and address of the other firm carries: it must never reach this firm. */
const OTHER_MARK = 'zz-other';

interface Operation {
  readonly id: string;
  readonly method: string;
  readonly path: string;
  readonly roles: readonly string[];
}

const unready = (): never => {
  throw new Error('filled in before the walk begins');
};
let server: TestServer;
let world: World;
const clients = new Map<Role | 'anonymous' | 'removed', Client>();

/** Read from the document that the server publishes, so that a route added tomorrow is walked tomorrow. */
const operations = listOperations();

beforeAll(async () => {
  server = await startTestServer();
  await seedPerson(server, 'owner', { id: 'owner-own' });
  await seedPerson(server, 'owner', {
    firm: OTHER_FIRM,
    id: `${OTHER_MARK}-owner`,
    email: `${OTHER_MARK}@example.com`,
  });
  const at = '2026-01-01T00:00:00.000Z';
  await server.ledger.append(FIRM.id, firstFacts(FIRM.id, 'owner-own', 'own-house'), at);
  await server.ledger.append(
    OTHER_FIRM.id,
    firstFacts(OTHER_FIRM.id, `${OTHER_MARK}-owner`, `${OTHER_MARK}-house`, `${OTHER_MARK}-branch`),
    at,
  );
  let count = 0;
  world = {
    firm: FIRM.id,
    otherFirm: OTHER_FIRM.id,
    own: { property: 'own-house', station: 'own-house-s1', visit: 'own-house-visit-80', branch: 'north' },
    other: {
      property: `${OTHER_MARK}-house`,
      station: `${OTHER_MARK}-house-s1`,
      visit: `${OTHER_MARK}-house-visit-80`,
      branch: `${OTHER_MARK}-branch`,
      person: `${OTHER_MARK}-owner`,
    },
    newPerson: () => {
      count += 1;
      return seedPerson(server, 'technician', { email: `victim-${count}@example.com` });
    },
    idOf: (role) => `${role}-own`,
    newBranch: unready,
    ownPlan: undefined,
    otherPlan: '',
    newMail: async () => {
      const row = await server.mail.enqueue({
        firm: FIRM.id,
        property: 'own-house',
        visit: null,
        paper: 'station list',
        recipient: 'customer@example.invalid',
        subject: 'Stations',
        text: 'Attached.',
        attachment: null,
        askedBy: 'owner-own',
        timeZone: 'UTC',
      });
      return row.id;
    },
    newLink: async (property, person) => {
      count += 1;
      const made = createFacts(FIRM.id, 'owner-own', `links-${count}`).other(property, 'link made');
      const link = {
        link: `link-${count}`,
        secretHash: '0'.repeat(64),
        purpose: property === null ? 'round calendar' : 'property page',
        person,
        expiresAt: null,
      };
      await server.ledger.append(FIRM.id, [{ ...made, body: link }], at);
      return link.link;
    },
  };
  const freshBranch = async (): Promise<string> => {
    count += 1;
    return (await seedBranch(server.ledger, FIRM.id, 'owner-own', `branch-${count}`)).branch;
  };
  const otherOwner = await signedIn(server, `${OTHER_MARK}@example.com`);
  await seedBranch(server.ledger, OTHER_FIRM.id, `${OTHER_MARK}-owner`, `${OTHER_MARK}-planned`);
  const otherPlan = await planBranch(otherOwner, `${OTHER_MARK}-planned`);
  world = {
    ...world,
    newBranch: freshBranch,
    otherPlan: otherPlan.id,
  };
  for (const role of ROLES) {
    await seedPerson(server, role, { id: `${role}-own` });
    clients.set(role, await signedIn(server, `${role}@${FIRM.id}.example`));
  }
  world = { ...world, ownPlan: await planBranch(clientOf('owner'), await freshBranch()) };
  clients.set('anonymous', new Client(server.url));
  const former = await seedPerson(server, 'lead', { email: 'former@example.com' });
  clients.set('removed', await signedIn(server, 'former@example.com'));
  const owner = clientOf('owner');
  expect((await owner.send('DELETE', `/api/people/${former}`)).status).toBe(204);
});
afterAll(() => server.end());

describe('every route of the document', () => {
  it('was found, and every address under /api is in the document', () => {
    expect(operations.length).toBeGreaterThan(25);
    const declared = new Set(
      operations.map(({ method, path }) => `${method} ${path.replaceAll(/\{(\w+)\}/g, ':$1')}`),
    );
    const registered = listRegistered();
    expect(registered.length).toBe(operations.length);
    for (const route of registered) expect(declared, route).toContain(route);
  });

  it('has a row in the role table and an example to walk it with', () => {
    for (const { id, roles } of operations) {
      expect(roles, id).not.toEqual([]);
      for (const role of roles) expect(['anyone', ...ROLES], id).toContain(role);
      expect(Object.keys(EXAMPLES), id).toContain(id);
    }
    for (const { method, path, roles } of operations) {
      expect(roles.toSorted(), `${method} ${path}`).toEqual(rolesMeant(`${method} ${path}`));
    }
    expect(Object.keys(ROLE_TABLE).length).toBe(operations.length);
    expect(Object.keys(EXAMPLES).sort()).toEqual(operations.map(({ id }) => id).sort());
  });

  describe.each(operations)('$method $path', (operation) => {
    it.each([...ROLES, 'anonymous', 'removed'] as const)('as %s, with ids of the own firm', async (who) => {
      const answer = await call(operation, who, 'own');
      const isOpen = operation.roles.includes('anyone') || operation.roles.includes(who);
      if (isOpen) {
        expect(['not allowed', 'not signed in'], answer.text).not.toContain(answer.body?.code);
        const expected = exampleOf(operation).expected ?? [200, 201, 204];
        expect(expected, answer.text.slice(0, 500)).toContain(answer.status);
      } else {
        const isNobody = who === 'anonymous' || who === 'removed';
        expect(answer.body?.code).toBe(isNobody ? 'not signed in' : 'not allowed');
        expect(answer.status).toBe(isNobody ? 401 : 403);
      }
      expect(answer.text).not.toContain(OTHER_MARK);
    });

    const reachable = ROLES.filter((role) => operation.roles.includes(role));
    it.each(reachable)('as %s, with ids of another firm', async (who) => {
      const example = exampleOf(operation);
      if (example.other === 'no ids') {
        expect(operation.path).not.toContain('{');
        return;
      }
      const answer = await call(operation, who, 'other');
      if (example.other === 'not found') expect(answer.body?.code).toBe('not found');
      else example.other(answer);
      const withoutEcho = answer.text.replaceAll(/"id":"[^"]*","verdict"/g, '');
      if (example.echoes !== true) expect(withoutEcho).not.toContain(OTHER_MARK);
    });
  });
});

async function call(
  operation: Operation,
  who: Role | 'anonymous' | 'removed',
  whose: 'own' | 'other',
): Promise<Answer> {
  const example = exampleOf(operation);
  const request = await example.request(world, whose, who);
  const path = operation.path.replaceAll(/\{(\w+)\}/g, (_, name: string) => {
    const value = request.params?.[name];
    if (value === undefined) throw new Error(`the example of ${operation.id} lacks the parameter ${name}`);
    return encodeURIComponent(value);
  });
  // A copy, so that an example that ends its session ends only the copy's cookie jar.
  const client = new Client(server.url);
  if (example.freshSession === true && isRole(who)) {
    await client.signIn(`${who}@${FIRM.id}.example`);
  } else {
    client.cookies = new Map(clientOf(who).cookies);
  }
  const query = new URLSearchParams(request.query ?? {}).toString();
  return client.send(
    operation.method,
    query === '' ? path : `${path}?${query}`,
    request.body,
    request.headers,
  );
}

function isRole(who: string): who is Role {
  return ROLES.some((role) => role === who);
}

function clientOf(who: Role | 'anonymous' | 'removed'): Client {
  const client = clients.get(who);
  if (client === undefined) throw new Error(`no client for ${who}`);
  return client;
}

function exampleOf({ id }: Operation) {
  const example = EXAMPLES[id];
  if (example === undefined) throw new Error(`${id} has no example: add one to test/examples.ts`);
  return example;
}

function bareApp() {
  const unused = new Proxy({}, { get: () => () => undefined });
  return createServer({
    ledger: unused as never,
    books: unused as never,
    photos: unused as never,
    plans: unused as never,
    reckoner: unused as never,
    press: unused as never,
    accounts: unused as never,
    deps: { now: Date.now, newId: createIdMaker(Date.now), log: pino({ level: 'silent' }) },
    limits: DEFAULT_LIMITS,
    setupToken: null,
    demo: false,
    checkAnswers: true,
    publicOrigin: undefined,
    isLoopback: true,
    behindProxy: false,
    webFolder: 'nowhere',
    openAs: undefined,
    isDraining: () => false,
    mail: unused as never,
    linkUses: unused as never,
  });
}

function listOperations(): readonly Operation[] {
  const paths: Record<string, Record<string, Record<string, unknown>>> = JSON.parse(
    JSON.stringify(getDocument(bareApp()).paths),
  );
  return Object.entries(paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({
      id: String(operation['operationId']),
      method: method.toUpperCase(),
      path,
      roles: Array.isArray(operation['x-roles']) ? operation['x-roles'].map(String) : [],
    })),
  );
}

function listRegistered(): readonly string[] {
  return bareApp()
    .routes.filter(({ path, method }) => path.startsWith('/api/') && method !== 'ALL')
    .map(({ path, method }) => `${method} ${path}`);
}
