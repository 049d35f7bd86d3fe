/** The closed list of roles, from least to most. `inspector` reads everything and changes nothing. */
export const ROLES = ['inspector', 'technician', 'lead', 'owner'] as const;
export type Role = (typeof ROLES)[number];

export const EVERY_ROLE: readonly Role[] = ROLES;
/** Those who record what they saw and did. */
export const RECORDERS: readonly Role[] = ['technician', 'lead', 'owner'];
/** Those who run the office. */
export const OFFICE: readonly Role[] = ['lead', 'owner'];
export const OWNERS: readonly Role[] = ['owner'];

export function isRole(text: string): text is Role {
  return ROLES.some((role) => role === text);
}

/** Roles that a person of this role may give to, or take from, another person. */
export const MAY_APPOINT: Readonly<Record<Role, readonly Role[]>> = {
  inspector: [],
  technician: [],
  lead: ['technician', 'inspector'],
  owner: ROLES,
};

/**
 * Who may record which kind of fact. Kinds that this build does not know (an old server, a new phone) are kept
 * for everyone who records.
 */
const KINDS_OF_THE_OFFICE: readonly string[] = [
  'property added',
  'property changed',
  'profile set',
  'model set',
  'branch added',
  'technician set',
  'technician away',
  'branch closed',
  'visit promised',
  'round published',
  'part set',
  'soil season set',
  'parts ordered',
  'order cancelled',
  'link made',
  'link withdrawn',
  // Written by the server when a message has gone; a claim by hand is the office's to make.
  'paper sent',
];

export function mayRecordKind(role: Role, kind: string): boolean {
  if (KINDS_OF_THE_OFFICE.includes(kind)) return OFFICE.includes(role);
  return RECORDERS.includes(role);
}
