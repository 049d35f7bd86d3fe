import type { Words } from '../words/index.ts';

/** Why one record was not taken: the server's sentence tells most, where the reader has its language. */
export function recordRefusalWords(code: string, detail: string, w: Words): string {
  const { isServers, records, said } = w.refusals;
  return isServers ? detail : [records[code], said(detail)].filter(Boolean).join(' ');
}
