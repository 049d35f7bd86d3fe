/**
 * Who is meant to use which address, written by hand and apart from the routes: i inspector, t technician, l lead, o owner,
 * `*` anyone. A new route, or a change of who may use one, needs a line here that somebody has thought about.
 */
export const ROLE_TABLE: Readonly<Record<string, string>> = {
  'GET /api/setup': '*',
  'POST /api/setup': '*',
  'POST /api/auth/sign-in': '*',
  'POST /api/auth/verify-totp': '*',
  'POST /api/auth/verify-backup-code': '*',
  'POST /api/auth/sign-out': '*',
  'POST /api/auth/sign-out-elsewhere': 'itlo',
  'POST /api/auth/change-password': 'itlo',
  'POST /api/auth/totp': 'itlo',
  'POST /api/auth/totp-off': 'itlo',
  'GET /api/me': 'itlo',
  'GET /api/people': 'itlo',
  'POST /api/people': 'lo',
  'PATCH /api/people/{id}': 'lo',
  'DELETE /api/people/{id}': 'lo',
  'POST /api/people/{id}/password': 'lo',
  'GET /api/branches': 'itlo',
  'GET /api/profiles': 'itlo',
  'GET /api/models': 'itlo',
  'GET /api/due': 'itlo',
  'GET /api/properties': 'itlo',
  'GET /api/properties/{id}': 'itlo',
  'GET /api/properties/{id}/facts': 'itlo',
  'POST /api/steps': 'itlo',
  'POST /api/facts': 'tlo',
  'GET /api/facts': 'itlo',
  'GET /api/sync/pull': 'itlo',
  'POST /api/sync/facts': 'itlo',
  'POST /api/sync/standing': '*',
  'GET /api/photos/{hash}/state': 'itlo',
  'PUT /api/photos/{hash}': 'tlo',
  'PUT /api/photos/{hash}/thumbnail': 'tlo',
  'GET /api/photos/{hash}': 'itlo',
  'GET /api/photos/{hash}/thumbnail': 'itlo',
  'GET /api/verify': 'ilo',
  'GET /api/reports/visits/{visit}': 'itlo',
  'GET /api/reports/applications': 'itlo',
  'GET /api/reports/stations/{property}': 'itlo',
  'POST /api/imports': 'lo',
  'GET /api/properties/{id}/diagram': 'itlo',
  'GET /api/properties/{id}/site': 'itlo',
  'GET /api/properties/{id}/proposal': 'itlo',
  'GET /api/properties/{id}/audit': 'itlo',
  'POST /api/properties/{id}/walk': 'itlo',
  'POST /api/ring/proposals': 'itlo',
  'POST /api/ring/audits': 'itlo',
};

const LETTERS: Readonly<Record<string, readonly string[]>> = {
  i: ['inspector'],
  t: ['technician'],
  l: ['lead'],
  o: ['owner'],
  '*': ['anyone'],
};

/** The roles of one line, sorted; empty where there is none. */
export function rolesMeant(route: string): readonly string[] {
  return [...(ROLE_TABLE[route] ?? '')].flatMap((letter) => LETTERS[letter] ?? []).sort();
}
