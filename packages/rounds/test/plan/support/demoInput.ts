import { generateDemo } from '@sillwatch/demo';
import { type AnyFact, type Day, foldFirm, foldProperty, foldRounds, getDay } from '@sillwatch/trade';
import { greatCircleTravel, type PlanInput, type ZoneClock } from '../../../src/index.ts';

export const TODAY = getDay('2026-11-25');

/** Eastern time as the law has it since 2007 (Energy Policy Act of 2005, section 110), enough for the days of these tests. */
export const easternClock: ZoneClock = (timeZone, day) => {
  if (timeZone === 'UTC') return 0;
  return day >= getDay('2027-03-14') && day < getDay('2027-11-07') ? -240 : -300;
};

export interface DemoInput {
  readonly input: PlanInput;
  readonly factsByProperty: ReadonlyMap<string, readonly AnyFact[]>;
  readonly firmFacts: readonly AnyFact[];
}

const KNOWN = new Map<string, DemoInput>();

/** The invented firm on the day after its history ends; made once a test file, as it takes a second. */
export function demoInput(
  seed: number,
  options: {
    readonly properties?: number;
    readonly branch?: string;
    readonly days?: number;
    readonly today?: Day;
  } = {},
): DemoInput {
  const key = `${seed} ${options.properties} ${options.today}`;
  const known = KNOWN.get(key) ?? makeDemo(seed, options);
  KNOWN.set(key, known);
  return {
    ...known,
    input: {
      ...known.input,
      branch: options.branch ?? known.input.branch,
      days: options.days ?? known.input.days,
    },
  };
}

function makeDemo(seed: number, options: { readonly properties?: number; readonly today?: Day }): DemoInput {
  const today = options.today ?? TODAY;
  const { facts } = generateDemo({ seed, today, properties: options.properties ?? 60 });
  const factsByProperty = new Map<string, AnyFact[]>();
  const firmFacts: AnyFact[] = [];
  for (const fact of facts) {
    if (fact.property === null) {
      firmFacts.push(fact);
      continue;
    }
    const known = factsByProperty.get(fact.property);
    if (known === undefined) factsByProperty.set(fact.property, [fact]);
    else known.push(fact);
  }
  return {
    factsByProperty,
    firmFacts,
    input: {
      properties: [...factsByProperty.values()].map((own) => foldProperty(own)),
      firm: foldFirm(facts),
      branch: 'branch-harbour',
      from: today,
      days: 56,
      rounds: foldRounds(facts),
      travel: greatCircleTravel(),
      clock: easternClock,
    },
  };
}
