import { lazy } from 'react';

/** Fetched when it is asked for: a phone that knows its technician starts without it. */
export const SignIn = lazy(async () => ({ default: (await import('./fieldSignIn.tsx')).FieldSignIn }));
