import { createHash } from 'node:crypto';
import { DEMO_PROFILE } from '@sillwatch/trade';
import { expect } from 'vitest';
import type { Role } from '../../src/index.ts';
import { createFacts, NOTHING_FOUND } from './facts.ts';
import { type Answer, PASSWORD } from './harness.ts';
import type { PlanAnswer } from './plans.ts';

interface Place {
  readonly property: string;
  readonly station: string;
  readonly visit: string;
  readonly branch: string;
}

export interface World {
  readonly firm: string;
  readonly otherFirm: string;
  readonly own: Place;
  readonly other: Place & { readonly person: string };
  /** A technician of the own firm whom nobody will miss; the account id. */
  readonly newPerson: () => Promise<string>;
  readonly idOf: (role: string) => string;
  /** A branch of the own firm that nobody plans yet. */
  readonly newBranch: () => Promise<string>;
  /** A plan of the own firm that is done. */
  readonly ownPlan: PlanAnswer;
  /** Id of a plan of the other firm. */
  readonly otherPlan: string;
  /** A message of the own firm that waits to be sent; its id. */
  readonly newMail: () => Promise<string>;
  /** A secret address of the own firm, of a property or of a person's rounds, that nobody will miss; its id. */
  readonly newLink: (property: string | null, person: string | null) => Promise<string>;
}

export interface ExampleRequest {
  readonly params?: Readonly<Record<string, string>>;
  readonly query?: Readonly<Record<string, string>>;
  readonly body?: unknown;
  readonly headers?: Record<string, string>;
}

export interface Example {
  /** A request that succeeds for every role that the table lets in. */
  readonly request: (
    world: World,
    whose: 'own' | 'other',
    who: Role | 'anonymous' | 'removed',
  ) => ExampleRequest | Promise<ExampleRequest>;
  /** What the same request with the other firm's ids must bring. */
  readonly other: 'not found' | 'no ids' | ((answer: Answer) => void);
  /** Statuses when let in; default 200, 201, 204. */
  readonly expected?: readonly number[];
  /** The answer repeats what was sent, so that the other firm's mark comes back to whoever wrote it. */
  readonly echoes?: boolean;
  /** Signs in anew first, because the request ends its session. */
  readonly freshSession?: boolean;
}

/** A house of 12 m by 8 m in mid-ocean, as GeoJSON (RFC 7946). */
export const HOUSE = {
  type: 'FeatureCollection',
  features: [
    {
      type: 'Feature',
      properties: { kind: 'structure', name: 'House (invented)' },
      geometry: {
        type: 'Polygon',
        coordinates: [
          [
            [-47.6, 31.2],
            [-47.599874, 31.2],
            [-47.599874, 31.2000722],
            [-47.6, 31.2000722],
            [-47.6, 31.2],
          ],
        ],
      },
    },
  ],
};

const nothing: Example = { request: () => ({}), other: 'no ids' };
const place = (world: World, whose: 'own' | 'other'): Place => world[whose];
let count = 0;
const unique = (word: string): string => {
  count += 1;
  return `${word}-${count}`;
};

const person: Example['request'] = async (world, whose) => ({
  params: { id: whose === 'own' ? await world.newPerson() : world.other.person },
});

/** As long as a picture must be for its kind to be told. */
const PICTURE = new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 1, 2, 3, 4]);
const HASH = createHash('sha256').update(PICTURE).digest('hex');
/** Of the other firm nothing is found: nobody there sent a picture with this hash. */
function photoOf(): Example {
  return {
    request: (_, whose) => ({ params: { hash: whose === 'own' ? HASH : '0'.repeat(64) } }),
    other: 'not found',
  };
}

const propertyById: Example = {
  request: (world, whose) => ({ params: { id: place(world, whose).property } }),
  other: 'not found',
};

const plan: Example['request'] = async (world, whose) => ({
  params: { id: whose === 'own' ? world.ownPlan.id : world.otherPlan },
});

const isNothing = (found: unknown): boolean => found === null || found === 'not allowed';

/** One example an operation of the API document; access.test.ts fails for a route without one. */
export const EXAMPLES: Readonly<Record<string, Example>> = {
  getSetup: nothing,
  postSetup: {
    request: () => ({
      body: { firmName: 'Second', name: 'Second', email: 'second@example.com', password: PASSWORD },
    }),
    other: 'no ids',
    expected: [409],
  },
  postAuthSignIn: {
    request: () => ({ body: { email: 'nobody@example.com', password: PASSWORD } }),
    other: 'no ids',
    expected: [401],
  },
  postAuthVerifyTotp: { request: () => ({ body: { code: '123456' } }), other: 'no ids', expected: [401] },
  postAuthVerifyBackupCode: {
    request: () => ({ body: { code: 'abcde-fghij' } }),
    other: 'no ids',
    expected: [401],
  },
  postAuthSignOut: { ...nothing, freshSession: true },
  postAuthSignOutElsewhere: nothing,
  postAuthChangePassword: {
    request: () => ({ body: { currentPassword: 'not the password', newPassword: 'a brand new one 12' } }),
    other: 'no ids',
    expected: [401],
  },
  postAuthTotp: {
    request: () => ({ body: { password: 'not the password' } }),
    other: 'no ids',
    expected: [401],
  },
  postAuthTotpOff: {
    request: () => ({ body: { password: 'not the password' } }),
    other: 'no ids',
    expected: [401],
  },
  getMe: nothing,
  getPeople: nothing,
  postPeople: {
    request: () => ({ body: { name: 'New', email: `${unique('new')}@example.com`, role: 'technician' } }),
    other: 'no ids',
  },
  patchPeopleId: {
    request: async (world, whose, who) => ({
      ...(await person(world, whose, who)),
      body: { name: 'Renamed' },
    }),
    other: 'not found',
  },
  deletePeopleId: { request: person, other: 'not found' },
  postPeopleIdPassword: { request: person, other: 'not found' },
  getBranches: nothing,
  getProfiles: nothing,
  getModels: nothing,
  getOffice: nothing,
  getFiguresName: {
    request: () => ({ params: { name: 'criteria' } }),
    // The name is one of a closed list, no id of anybody's.
    other: (answer) => expect(answer.status).toBe(200),
  },
  getDue: {
    request: (world, whose) => ({
      query: { property: place(world, whose).property, asOf: '2026-11-01', withinDays: '100' },
    }),
    other: (answer) => expect(answer.body.rows).toEqual([]),
  },
  getProperties: {
    request: (world, whose) => ({ query: { text: place(world, whose).property } }),
    other: (answer) => expect(answer.body.properties).toEqual([]),
  },
  getPropertiesId: {
    request: (world, whose) => ({ params: { id: place(world, whose).property } }),
    other: 'not found',
  },
  getPropertiesIdFacts: {
    request: (world, whose) => ({ params: { id: place(world, whose).property } }),
    other: 'not found',
  },
  getPropertiesIdDiagram: {
    request: (world, whose) => ({ params: { id: place(world, whose).property } }),
    other: 'not found',
  },
  postRingProposals: {
    request: () => ({ body: { site: HOUSE, profile: DEMO_PROFILE.id } }),
    other: 'no ids',
  },
  getPropertiesIdSite: propertyById,
  getPropertiesIdProposal: propertyById,
  getPropertiesIdAudit: propertyById,
  postPropertiesIdWalk: {
    request: (world, whose) => ({ params: { id: place(world, whose).property }, body: { stations: [] } }),
    other: 'not found',
  },
  postRingAudits: { request: () => ({ body: { site: HOUSE, profile: DEMO_PROFILE.id } }), other: 'no ids' },
  postSteps: {
    request: (world, whose) => ({
      body: {
        property: place(world, whose).property,
        station: place(world, whose).station,
        task: 'check',
        finding: NOTHING_FOUND,
      },
    }),
    other: 'not found',
  },
  postFacts: {
    request: (world, whose, who) => {
      const by = world.idOf(who);
      const facts = createFacts(world.firm, by, unique('phone'));
      const foreign = createFacts(world.otherFirm, by, unique('phone'));
      const { property, station } = place(world, whose);
      return {
        body: {
          facts:
            whose === 'own'
              ? [facts.seen(property, station, 90), facts.note(property, 'seen')]
              : [facts.seen(property, station, 90), foreign.seen(property, station, 90)],
        },
      };
    },
    other: (answer) =>
      expect(answer.body.verdicts.map(({ code }: { code?: string }) => code)).toEqual([
        'not allowed',
        'other firm',
      ]),
  },
  getFacts: {
    request: (world, whose) => ({ query: { property: place(world, whose).property } }),
    other: (answer) => expect(answer.body.facts).toEqual([]),
  },
  getVerify: nothing,
  getSyncPull: nothing,
  postSyncFacts: {
    request: (world, whose) => ({
      body: { properties: [{ property: place(world, whose).property, afterSeq: 0 }] },
    }),
    // The asked id comes back, with nothing under it.
    other: (answer) => expect(answer.body.properties[0].facts).toEqual([]),
    echoes: true,
  },
  postSyncStanding: {
    request: (world, whose) => ({
      body: { firm: world.firm, person: whose === 'own' ? 'owner-own' : world.other.person },
    }),
    other: (answer) => expect(answer.body.standing).toBe('unknown'),
  },
  postSyncReport: {
    // Whoever did not close the visit himself learns nothing of it (visitMail.test.ts).
    request: (world, whose) => ({
      body: { property: place(world, whose).property, visit: place(world, whose).visit },
    }),
    other: 'not found',
    expected: [200, 404, 409, 503],
  },
  getPhotos: {
    request: () => ({}),
    // It counts the asker's own firm and takes no name of another (photos.test.ts).
    other: (answer) => expect(answer.status).toBe(200),
  },
  getPhotosHashState: {
    request: () => ({ params: { hash: HASH } }),
    other: (answer) => expect(answer.status).toBe(200),
  },
  putPhotosHash: {
    request: () => ({
      params: { hash: HASH },
      query: { offset: '0', size: String(PICTURE.length) },
      body: PICTURE,
      headers: { 'content-type': 'image/jpeg' },
    }),
    // A hash belongs to no firm; what was stored under it does (photos.test.ts).
    other: (answer) => expect(answer.status).toBe(200),
  },
  putPhotosHashThumbnail: {
    request: () => ({ params: { hash: HASH }, body: PICTURE, headers: { 'content-type': 'image/jpeg' } }),
    other: (answer) => expect([200, 404]).toContain(answer.status),
    expected: [200, 404],
  },
  getPhotosHash: { ...photoOf(), expected: [200, 404] },
  getPhotosHashThumbnail: { ...photoOf(), expected: [200, 404] },
  getImports: nothing,
  postImportsIdWithdraw: {
    request: () => ({ params: { id: '999998-999999' }, body: { why: 'asked by the access test' } }),
    other: 'not found',
    expected: [404],
  },
  postImports: {
    request: (world, whose) => ({
      query: { dryRun: 'true', file: 'houses.csv' },
      body: new TextEncoder().encode(
        `Property,Street,Town,State,Zip,Branch,Profile\n${place(world, whose).property},1 Pretend Lane,Nowhere Falls,FL,00000,${place(world, whose).branch},demo\n`,
      ),
      headers: { 'content-type': 'text/csv' },
    }),
    // The other firm's property is a new one here, in a branch that this firm does not have: nothing of theirs is met.
    other: (answer) => expect(answer.body.stored).toBe(0),
    echoes: true,
  },
  postPropertiesIdLinks: {
    request: (world, whose) => ({
      params: { id: place(world, whose).property },
      body: { purpose: 'property page', forDays: 30 },
    }),
    other: 'not found',
  },
  getPropertiesIdLinks: {
    request: (world, whose) => ({ params: { id: place(world, whose).property } }),
    other: 'not found',
  },
  deletePropertiesIdLinksLink: {
    request: async (world, whose) => ({
      params: {
        id: place(world, whose).property,
        link: await world.newLink(world.own.property, null),
      },
    }),
    other: 'not found',
  },
  postLinks: {
    request: (world, whose, who) => ({
      body: { person: whose === 'own' ? world.idOf(who) : world.other.person, forDays: 30 },
    }),
    other: (answer) => expect(answer.body.code).toBe('not found'),
  },
  getLinks: nothing,
  deleteLinksLink: {
    request: async (world, whose, who) => ({
      params: { link: whose === 'own' ? await world.newLink(null, world.idOf(who)) : 'zz-other-link' },
    }),
    other: 'not found',
  },
  postPropertiesIdMail: {
    request: (world, whose) => ({
      params: { id: place(world, whose).property },
      body: { paper: 'visit report', visit: place(world, whose).visit, preview: true },
    }),
    other: 'not found',
  },
  getMail: {
    request: (world, whose) => ({ query: { property: place(world, whose).property } }),
    other: (answer) => expect(answer.body.messages).toEqual([]),
  },
  postMailIdRetry: {
    request: async (world, whose) => ({
      params: { id: whose === 'own' ? await world.newMail() : 'zz-other-message' },
    }),
    other: 'not found',
  },
  postMailIdCancel: {
    request: async (world, whose) => ({
      params: { id: whose === 'own' ? await world.newMail() : 'zz-other-message' },
    }),
    other: 'not found',
  },
  getReportsWorklistsPersonDay: {
    request: (world, whose, who) => ({
      params: { person: whose === 'own' ? world.idOf(who) : world.other.person, day: '2099-01-04' },
    }),
    other: 'not found',
  },
  getRenewals: { request: () => ({ query: { month: '2026-01' } }), other: 'no ids' },
  getReportsRenewals: { request: () => ({ query: { month: '2026-01' } }), other: 'no ids' },
  getReportsRenewalsProperty: {
    request: (world, whose) => ({ params: { property: place(world, whose).property } }),
    other: 'not found',
  },
  getReportsLabelsProperty: {
    request: (world, whose) => ({ params: { property: place(world, whose).property } }),
    other: 'not found',
  },
  postReportsLabels: { request: () => ({ body: { first: '0001', count: 3 } }), other: 'no ids' },
  getReportsBundle: {
    request: (world, whose) => ({ query: { property: place(world, whose).property } }),
    other: (answer) => expect(answer.body.code).toBe('not found'),
  },
  getReportsVisitsVisit: {
    request: (world, whose) => ({ params: { visit: place(world, whose).visit } }),
    other: 'not found',
  },
  getReportsApplications: {
    request: (world, whose) => ({ query: { property: place(world, whose).property } }),
    other: (answer) => expect(answer.body.code).toBe('not found'),
  },
  getReportsStationsProperty: {
    request: (world, whose) => ({
      params: { property: place(world, whose).property },
      query: { format: 'html' },
    }),
    other: 'not found',
  },
  postPlans: {
    request: async (world, whose) => ({
      body: { branch: whose === 'own' ? await world.newBranch() : world.other.branch, iterations: 1 },
    }),
    other: (answer) => expect(answer.body.code).toBe('not found'),
    echoes: true,
  },
  getPlans: {
    request: (world, whose) => ({ query: { branch: place(world, whose).branch } }),
    other: (answer) => expect(answer.body.plans).toEqual([]),
  },
  getPlansId: { request: plan, other: 'not found' },
  postPlansIdCancel: { request: plan, other: 'not found' },
  postPlansIdPublish: { request: plan, other: 'not found' },
  postPlansIdMoves: {
    request: async (world, whose) => {
      if (whose === 'other')
        return { params: { id: world.otherPlan }, body: { kind: 'freeze', visits: ['any'] } };
      const { id, plan: made } = world.ownPlan;
      const [round] = made.rounds;
      const { person, day } = round;
      return { params: { id }, body: { kind: 'try', visit: round.visits[0].visit, person, day } };
    },
    other: 'not found',
  },
  getLoad: {
    request: (world, whose) => ({ query: { branch: place(world, whose).branch } }),
    other: 'not found',
  },
  getStock: {
    request: (world, whose) => ({ query: { branch: place(world, whose).branch } }),
    other: 'not found',
  },
  getRounds: {
    request: (world, whose) => ({ query: whose === 'own' ? {} : { branch: world.other.branch } }),
    other: (answer) => expect(answer.body.rounds).toEqual([]),
  },
  getRoundsSent: {
    request: (world, whose) => ({
      query: {
        from: '2026-11-26',
        to: '2026-12-20',
        ...(whose === 'own' ? {} : { branch: world.other.branch }),
      },
    }),
    other: (answer) => expect(answer.body.rounds).toEqual([]),
  },
  getRoundsPersonDay: {
    request: (world, whose, who) => ({
      params: { person: whose === 'own' ? world.idOf(who) : world.other.person, day: '2026-11-26' },
    }),
    // A technician may not even ask for another's.
    other: (answer) => expect(answer.body.round ?? answer.body.code ?? null).toSatisfy(isNothing),
  },
};
