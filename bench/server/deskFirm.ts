import { type RunningServer, seedAccount } from '@sillwatch/server';
import { type AnyFact, DEMO_PROFILE, uuidV7 } from '@sillwatch/trade';
import { makePropertyFacts } from '../trade/firm.ts';

export const FIRM = { id: 'bench', name: 'Invented bench firm' };
export const STATIONS = 20;
export const BRANCHES = 8;
const LOOKS = 9;
let officeFacts = 0;

/** The account that an open server signs everybody in as; a database that was filled elsewhere may lack it. */
export async function seedOwner({ accounts }: RunningServer): Promise<void> {
  if ((await accounts.findPerson('owner')) !== undefined) return;
  await seedAccount(accounts, FIRM, {
    id: 'owner',
    name: 'Invented',
    email: 'owner@example.com',
    role: 'owner',
    branch: null,
    licenceNumber: null,
    certificationNumber: null,
    password: 'bench password, invented',
  });
}

/** Properties of 20 stations with 9 looks at each: at 20,000 of them 4 million facts. Minutes of work, so a file is filled once and used again. */
export async function fillDeskFirm(server: RunningServer, properties: number): Promise<void> {
  await seedOwner(server);
  const start = performance.now();
  let batch: AnyFact[] = [];
  const send = async () => {
    const verdicts = await server.ledger.append(FIRM.id, batch, '2026-11-25T00:00:00.000Z');
    const refused = verdicts.find(({ verdict }) => verdict === 'refused');
    if (refused !== undefined) throw new Error(JSON.stringify(refused));
    batch = [];
  };
  for (let index = 0; index < properties; index += 1) {
    const id = `house-${index}`;
    const facts = makePropertyFacts(index + 1, id, STATIONS, STATIONS * (1 + LOOKS));
    const [model] = facts;
    if (model === undefined) throw new Error('a property has facts');
    if (index === 0) batch.push(officeFact(model, null, 'profile set', DEMO_PROFILE));
    batch.push(officeFact(model, id, 'property added', bodyOf(index)));
    for (const { receipt: _, ...fact } of facts) batch.push(fact);
    if (batch.length > 8000) await send();
    if (index % 2000 === 1999) console.log(`${index + 1} filled, ${seconds(start)} s`);
  }
  await send();
}

export function officeFact(like: AnyFact, property: string | null, kind: string, body: unknown): AnyFact {
  const { receipt: _, ...head } = like;
  officeFacts += 1;
  const random = Uint8Array.from({ length: 10 }, (_, index) => (officeFacts >> (8 * (index % 4))) & 255);
  return { ...head, id: uuidV7(0, random), property, station: null, kind, body };
}

function bodyOf(index: number) {
  return {
    name: `House ${index}`,
    branch: `branch-${index % BRANCHES}`,
    address: {
      street: `${index} Pretend Lane`,
      town: `Invented Town ${index % 40}`,
      state: 'ZZ',
      postcode: '00000',
    },
    customer: { name: `Household ${index}`, email: null, phone: null },
    timeZone: 'America/New_York',
    profile: DEMO_PROFILE.id,
    agreement: null,
    accessNotes: '',
    hazards: '',
    position: null,
  };
}

function seconds(start: number): string {
  return ((performance.now() - start) / 1000).toFixed(0);
}
