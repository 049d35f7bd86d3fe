import type {
  AnyFact,
  Day,
  DueItem,
  DueWindow,
  HeldService,
  LabelProfile,
  PropertyBody,
  SiteBody,
  StationModel,
  StationState,
  StructureState,
  Timeliness,
  VisitSummary,
  WorkKind,
} from '@sillwatch/trade';

/** What the screens work with; days have been read from `YYYY-MM-DD` at the door (api/parse.ts). */
export type Role = 'technician' | 'lead' | 'owner' | 'inspector';

export interface Branch {
  readonly branch: string;
  readonly name: string;
  readonly timeZone: string;
}

export interface Me {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly role: Role;
  /** home branch; null = the whole firm */
  readonly branch: string | null;
  readonly licenceNumber: string | null;
  readonly certificationNumber: string | null;
  readonly mustChangePassword: boolean;
  /** a code is asked for at sign-in */
  readonly twoFactor: boolean;
  readonly firm: { readonly id: string; readonly name: string };
  /** An invented firm, open on this machine only. */
  readonly demo: boolean;
}

/** One property with the work owed there. */
export const DUE_GROUPS = ['late', 'open', 'coming', 'held'] as const;
/** Each property with owed work stands in one of the first three by its most urgent work; besides in `held`. */
export type DueGroup = (typeof DUE_GROUPS)[number];

/** One property with owed work. */
export interface DueRow {
  readonly property: string;
  readonly name: string;
  readonly town: string;
  readonly branch: string;
  readonly asOf: Day;
  /** each kind of work owed, with the soonest window of its stations */
  readonly works: readonly (DueWindow & { readonly work: WorkKind; readonly stations: number })[];
  /** stations owed anything */
  readonly stations: number;
  /** of the most urgent work; null where a service only waits for feeding to end */
  readonly window: (DueWindow & { readonly timeliness: Timeliness }) | null;
  /** pieces of work past their latest day */
  readonly late: number;
  /** stations whose yearly service waits because termites are feeding */
  readonly held: number;
}

export interface DueAnswer {
  readonly rows: readonly DueRow[];
  /** rows after these */
  readonly moreRows: number;
  /** properties whose work can be told, whether or not anything is owed there */
  readonly properties: number;
  /** stations whose yearly service waits */
  readonly held: number;
  /** rows of each group under the same question */
  readonly groups: Readonly<Record<DueGroup, number>>;
  /** towns with rows, as if no town had been asked for */
  readonly towns: readonly { readonly town: string; readonly rows: number }[];
  readonly withoutProfile: readonly string[];
}

export interface PropertyRow {
  readonly property: string;
  readonly name: string;
  readonly street: string;
  readonly town: string;
  readonly branch: string;
  readonly customer: string;
  readonly stations: number;
  readonly feeding: number;
  readonly openHits: number;
}

export interface PropertyAnswer {
  readonly property: string;
  readonly asOf: Day;
  readonly body: PropertyBody | null;
  readonly profile: { readonly id: string; readonly name: string; readonly invented: boolean } | null;
  readonly structures: readonly StructureState[];
  /** What is drawn round them; null = nothing yet. */
  readonly site: SiteBody | null;
  readonly stations: readonly StationState[];
  readonly items: readonly DueItem[];
  readonly held: readonly HeldService[];
  readonly visits: readonly VisitSummary[];
  readonly passedOver: number;
}

export interface Trade {
  readonly profiles: ReadonlyMap<string, LabelProfile>;
  readonly models: ReadonlyMap<string, StationModel>;
}

export interface FactsAnswer {
  readonly facts: readonly AnyFact[];
}

/** RFC 9457, with the remedy and the places that the server adds. */
export interface Problem {
  readonly title: string;
  readonly status: number;
  readonly detail?: string;
  readonly code?: string;
  readonly remedy?: string;
  /** of the messages in `errors`, where the caller chose one */
  readonly lang?: string;
  /** each place that is wrong */
  readonly errors?: readonly { readonly at: string; readonly message: string }[];
}

export type Verdict =
  | { readonly id: string; readonly verdict: 'accepted' | 'already known'; readonly seq: number }
  | { readonly id: string; readonly verdict: 'refused'; readonly code: string; readonly detail: string };
