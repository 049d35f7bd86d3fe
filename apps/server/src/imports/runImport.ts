import { cellInWords, knownOf, type Mapping, type PaperLanguage, type RowProblem } from '@sillwatch/paper';
import type { AnyFact, FirmState, PropertyState } from '@sillwatch/trade';
import type { Person, Services } from '../http/context.ts';
import { type ErrorPlace, Problem } from '../http/problems.ts';
import { screenFacts } from '../records/screen.ts';
import { createToday } from '../work/days.ts';
import { eachProperty, modelsOf } from '../work/firm.ts';
import { importId, listImported } from './imported.ts';
import {
  type ImportFile,
  type ImportOutcome,
  type ImportProgress,
  ImportTooLargeError,
  runImportJob,
} from './importJob.ts';

export interface ImportRequest {
  readonly files: readonly ImportFile[];
  readonly mapping: unknown;
  /** Plans and shows everything, stores nothing. */
  readonly dryRun: boolean;
  /** of what stands in the way */
  readonly lang: PaperLanguage;
}

export type ImportAnswer = Omit<Extract<ImportOutcome, { readonly ok: true }>, 'ok' | 'plan'> & {
  readonly dryRun: boolean;
  /** facts stored; 0 on a dry run */
  readonly stored: number;
  /** facts that it would store, or stored */
  readonly planned: number;
  readonly summary: Extract<ImportOutcome, { readonly ok: true }>['plan']['summary'];
  /** on a dry run the first of them; otherwise a problem is a refusal */
  readonly problems: readonly RowProblem[];
  readonly problemCount: number;
  /** By which it can be taken back; null where nothing was stored. */
  readonly id: string | null;
};

const firmsAtWork = new Set<string>();

/** One at a time for a firm: two that overlap could both add the same property, or add what the other takes back. */
export async function alone<T>(firm: string, work: () => Promise<T>): Promise<T> {
  if (firmsAtWork.has(firm)) {
    throw new Problem('too many requests', 'Another import of this firm is running.', {
      retryAfterSeconds: 20,
    });
  }
  firmsAtWork.add(firm);
  try {
    return await work();
  } finally {
    firmsAtWork.delete(firm);
  }
}

/**
 * Reads, plans and, unless it is a dry run, stores a firm's files: all of them in one transaction, or nothing.
 * Throws `import refused` with the places that are wrong.
 */
export function runImport(
  services: Services,
  person: Person,
  request: ImportRequest,
  onProgress: (progress: ImportProgress) => void,
  signal: AbortSignal,
): Promise<ImportAnswer> {
  return alone(person.firm, () => importAlone(services, person, request, onProgress, signal));
}

async function importAlone(
  services: Services,
  person: Person,
  request: ImportRequest,
  onProgress: (progress: ImportProgress) => void,
  signal: AbortSignal,
): Promise<ImportAnswer> {
  const outcome = await planned(services, person, request, onProgress, signal);
  if (!outcome.ok) throw refusal(outcome, request.lang);
  const { plan, mapping, columns, warnings } = outcome;
  if (plan.problemCount > 0 && !request.dryRun) throw rowRefusal(plan, request.lang);
  await checkAllowed(services, person, plan.facts);
  let id: string | null = null;
  const isStoring = !request.dryRun && plan.facts.length > 0;
  if (isStoring) {
    onProgress({ stage: 'storing', done: 0, total: plan.facts.length });
    id = await store(services, person.firm, plan.facts);
    onProgress({ stage: 'storing', done: plan.facts.length, total: plan.facts.length });
  }
  return {
    dryRun: request.dryRun,
    stored: isStoring ? plan.facts.length : 0,
    planned: plan.facts.length,
    summary: plan.summary,
    problems: plan.problems,
    problemCount: plan.problemCount,
    id,
    mapping,
    columns,
    warnings,
  };
}

async function planned(
  { ledger, deps }: Services,
  person: Person,
  { files, mapping, lang }: ImportRequest,
  onProgress: (progress: ImportProgress) => void,
  signal: AbortSignal,
): Promise<ImportOutcome> {
  const firm = await ledger.getFirm(person.firm);
  const existing: PropertyState[] = [];
  for await (const property of eachProperty(ledger, person.firm, undefined)) existing.push(property);
  const context = {
    firm: person.firm,
    by: person.id,
    today: createToday(deps.now()).inZone('UTC'),
    now: new Date(deps.now()).toISOString(),
    existing,
    ...(await listImported(ledger, person.firm)),
    models: modelsOf(firm),
    ...knownOf(firm),
    firmDefaults: defaultsOf(firm),
  };
  try {
    return await runImportJob({ files, mapping, lang, context }, onProgress, signal);
  } catch (error) {
    if (!(error instanceof ImportTooLargeError)) throw error;
    throw new Problem('import refused', `The file is too much for one import: ${error.message}. Split it.`);
  }
}

function defaultsOf(firm: FirmState): Mapping['defaults'] {
  const only = (values: readonly string[]): string | undefined => {
    const [first, ...others] = new Set(values);
    return others.length === 0 ? first : undefined;
  };
  const branch = only(Object.keys(firm.branches));
  const profile = only(Object.keys(firm.profiles));
  const timeZone = only(Object.values(firm.branches).map((one) => one.timeZone));
  return {
    ...(branch === undefined ? {} : { branch }),
    ...(profile === undefined ? {} : { profile }),
    ...(timeZone === undefined ? {} : { timeZone }),
  };
}

/** The same questions as at POST /api/facts, but for the file as a whole. */
async function checkAllowed({ ledger }: Services, person: Person, facts: readonly AnyFact[]): Promise<void> {
  const refusals = (await screenFacts(ledger, person, facts, { importing: true })).flatMap(
    ({ refusal: one }) => (one === undefined ? [] : [one]),
  );
  if (refusals.length === 0) return;
  const reasons = [...new Set(refusals.map(({ detail }) => detail))];
  throw new Problem('import refused', `${refusals.length} entries of the file may not be recorded.`, {
    errors: reasons.map((message) => ({ at: 'file', message })),
  });
}

/** One append is one transaction. A refusal here would be a fault of ours: all was checked before. */
async function store(
  { ledger, deps }: Services,
  firm: string,
  facts: readonly AnyFact[],
): Promise<string | null> {
  const verdicts = await ledger.append(firm, facts, new Date(deps.now()).toISOString());
  const refused = verdicts.find(({ verdict }) => verdict === 'refused');
  if (refused !== undefined) throw new Error(`the ledger refused a planned fact: ${JSON.stringify(refused)}`);
  return importId(verdicts.flatMap((verdict) => ('seq' in verdict ? [verdict.seq] : [])));
}

function refusal(
  { files, mapping }: Extract<ImportOutcome, { readonly ok: false }>,
  lang: PaperLanguage,
): Problem {
  const errors: readonly ErrorPlace[] = [
    ...files.map(({ file, reason, remedy }) => ({ at: file, message: `${reason}. ${remedy}` })),
    ...mapping.map(({ path, reason, remedy }) => ({
      at: `mapping.${path}`,
      message: `${reason}. ${remedy}`,
    })),
  ];
  return new Problem(
    'import refused',
    files.length > 0 ? 'The file cannot be read.' : 'The mapping does not fit the file.',
    // What a mapping lacks is said to whoever wrote one by hand, in English.
    { errors, ...(mapping.length > 0 ? {} : { lang }) },
  );
}

function rowRefusal(
  { problems, problemCount: count }: Pick<ImportAnswer, 'problems' | 'problemCount'>,
  lang: PaperLanguage,
): Problem {
  const listed = problems.length < count ? ` The first ${problems.length} are listed.` : '';
  return new Problem('import refused', `${count} cells cannot be taken as they are.${listed}`, {
    errors: problems.map((problem) => ({
      at: cellInWords(problem, lang),
      message: `${JSON.stringify(problem.value)}: ${problem.reason}. ${problem.remedy}`,
    })),
    lang,
  });
}
