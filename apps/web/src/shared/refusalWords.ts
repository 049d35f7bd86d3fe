import { ProblemError } from '../api/client.ts';
import { FactRefusedError } from '../api/office.ts';
import type { Words } from '../words/index.ts';
import { recordRefusalWords } from './recordRefusal.ts';

/** What went wrong and what to do about it: the server's sentence tells most, where the reader has its language. */
export function refusalWords(error: Error, w: Words): string {
  if (error instanceof FactRefusedError) return recordRefusalWords(error.code, error.message, w);
  if (!(error instanceof ProblemError)) return `${w.problem.offline} ${w.problem.offlineRemedy}`;
  const { code, title, detail, remedy, lang, errors = [] } = error.problem;
  const [ownTitle, ownRemedy] = w.refusals.problems[code ?? ''] ?? [title, remedy];
  const places = errors.map(({ at, message }) => `${at}: ${message.replace(/\.$/, '')}.`);
  const { isServers, said } = w.refusals;
  if (isServers) return [detail ?? ownTitle, ...places, ownRemedy].filter(Boolean).join(' ');
  if (lang === w.locale) return [`${ownTitle}.`, ...places, ownRemedy].join(' ');
  const sentence = [detail, ...places].filter(Boolean).join(' ');
  return [`${ownTitle}.`, ownRemedy, ...(sentence === '' ? [] : [said(sentence)])].filter(Boolean).join(' ');
}
