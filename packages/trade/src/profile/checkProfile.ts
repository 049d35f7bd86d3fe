import { addDays, addMonths, dayFromCivil } from '../units/index.ts';
import { isEpaRegistrationNumber } from './epaNumber.ts';
import type { LabelProfile, WindowRule } from './labelProfile.ts';

export interface ProfileProblem {
  /** Where, from the profile down: `check.value.latest.months`; empty = the profile as a whole. */
  readonly path: string;
  readonly reason: string;
  readonly remedy: string;
}

type Report = (path: string, reason: string, remedy: string) => void;
type Fields = Readonly<Record<string, unknown>>;
type ValueCheck = (value: unknown, path: string, report: Report) => void;
type NumberField = Exclude<keyof LabelProfile, 'id' | 'name' | 'invented' | 'product'>;

/** What each sourced field must hold. Typed by the profile, so that a new field is not forgotten here. */
const SOURCED_FIELDS: { readonly [K in NumberField]: ValueCheck } = {
  firstCheck: checkWindow,
  check: checkWindow,
  baitedCheck: checkWindow,
  yearlyService: checkYearlyWindow,
  carriedOverService: checkWindow,
  missedStation: checkWindow,
  missesBeforeReplacement: wholeFrom(1),
  addBaitAtOrUnder: numberBetween(0, 1, 'a fraction from 0 (only when gone) to 1 (always)'),
  baitGramsPerInsert: moreThanZero('grams'),
  idleBait: oneOf('stays', 'renewed', 'withdrawn'),
  clearBait: oneOf('stays', 'withdrawn'),
  clearAfterChecks: wholeFrom(1),
  auxiliaryStations: wholeFrom(0),
  monitorWithSigns: oneOf('kept', 'renewed'),
  greatestSpacingMetres: moreThanZero('metres'),
  setbackMetres: checkSetback,
  treatedSoilClearanceMetres: notNegative('metres'),
  concernDistanceMetres: notNegative('metres'),
};

/** Everything that is wrong with a label profile, with the remedy; an empty list = it can be used. */
export function checkProfile(value: unknown): readonly ProfileProblem[] {
  const problems: ProfileProblem[] = [];
  const report: Report = (path, reason, remedy) => problems.push({ path, reason, remedy });
  if (!isFields(value)) {
    report('', 'is not an object', 'give a label profile with its named fields');
    return problems;
  }
  checkText(value['id'], 'id', report);
  checkText(value['name'], 'name', report);
  checkProduct(value['product'], report);
  let anyInvented = false;
  for (const [name, check] of Object.entries(SOURCED_FIELDS)) {
    const sourced = value[name];
    if (!isFields(sourced)) {
      report(name, 'is missing', 'give value, source and invented');
      continue;
    }
    check(sourced['value'], `${name}.value`, report);
    checkText(sourced['source'], `${name}.source`, report);
    if (typeof sourced['invented'] !== 'boolean') {
      report(`${name}.invented`, 'is neither true nor false', 'say whether the number is invented');
    }
    anyInvented ||= sourced['invented'] === true;
  }
  const { invented } = value;
  if (typeof invented !== 'boolean') {
    report('invented', 'is neither true nor false', 'say whether any number is invented');
  } else if (anyInvented && !invented) {
    report('invented', 'is false though a number in it is invented', 'mark the profile as invented too');
  }
  return problems;
}

/** Whether the value can be used as a label profile: checkProfile finds nothing. */
export function isLabelProfile(value: unknown): value is LabelProfile {
  return checkProfile(value).length === 0;
}

function checkProduct(value: unknown, report: Report): void {
  if (!isFields(value)) {
    report('product', 'is missing', 'give name, EPA registration number and active ingredient');
    return;
  }
  checkText(value['name'], 'product.name', report);
  checkText(value['activeIngredient'], 'product.activeIngredient', report);
  const number = value['epaRegistrationNumber'];
  if (typeof number !== 'string' || !isEpaRegistrationNumber(number)) {
    report(
      'product.epaRegistrationNumber',
      `is not an EPA registration number: ${JSON.stringify(number)}`,
      'copy it from the label: company-product, or company-product-distributor, digits and hyphens only',
    );
  }
  const percent = value['activeIngredientPercent'];
  if (!isNumber(percent) || percent <= 0 || percent > 100) {
    report(
      'product.activeIngredientPercent',
      `is not a percentage: ${JSON.stringify(percent)}`,
      'give percent by weight, more than 0 and at most 100',
    );
  }
}

const ENDS = ['earliest', 'target', 'latest'] as const satisfies readonly (keyof WindowRule)[];
function checkWindow(value: unknown, path: string, report: Report): void {
  if (!isFields(value)) {
    report(path, 'is not a window', 'give earliest, target and latest, each in months and days');
    return;
  }
  const found: { name: string; months: number; days: number }[] = [];
  for (const name of ENDS) {
    const end = value[name];
    const months = isFields(end) ? end['months'] : undefined;
    const days = isFields(end) ? end['days'] : undefined;
    if (isWhole(months) && months >= 0 && months <= 120 && isWhole(days) && days >= 0 && days <= 3650) {
      found.push({ name, months, days });
    } else {
      report(
        `${path}.${name}`,
        `is not a length of time: ${JSON.stringify(end)}`,
        'give whole months from 0 to 120 and whole days from 0 to 3650',
      );
    }
  }
  const [earliest, target, latest] = found;
  if (earliest === undefined || target === undefined || latest === undefined) return;
  for (const [first, second] of [
    [earliest, target],
    [target, latest],
  ] as const) {
    if (!isNeverAfter(first, second)) {
      report(
        `${path}.${second.name}`,
        `can fall before ${first.name}`,
        `make it at least as long as ${first.name}, in every calendar month`,
      );
    }
  }
  if (latest.months === 0 && latest.days === 0) {
    report(`${path}.latest`, 'is 0 months and 0 days', 'give at least one day');
  }
}

interface Length {
  readonly months: number;
  readonly days: number;
}

/** Whether `first` ends no later than `second` from whatever day both are counted: every day of a leap-year cycle is tried. */
function isNeverAfter(first: Length, second: Length): boolean {
  if (first.months <= second.months && first.days <= second.days) return true;
  const start = dayFromCivil(2000, 3, 1);
  for (let i = 0; i < 1461; i++) {
    const day = addDays(start, i);
    if (addMonths(day, first.months) + first.days > addMonths(day, second.months) + second.days) return false;
  }
  return true;
}

function checkYearlyWindow(value: unknown, path: string, report: Report): void {
  checkWindow(value, path, report);
  if (!isFields(value) || !isFields(value['earliest'])) return;
  if (value['earliest']['months'] === 0 && value['earliest']['days'] === 0) {
    report(`${path}.earliest`, 'is 0', 'a yearly service cannot be due on the day it was done; give a time');
  }
}

function checkSetback(value: unknown, path: string, report: Report): void {
  const nearest = isFields(value) ? value['nearest'] : undefined;
  const farthest = isFields(value) ? value['farthest'] : undefined;
  if (!isNumber(nearest) || nearest < 0 || !isNumber(farthest) || farthest <= 0) {
    report(
      path,
      `is not a setback: ${JSON.stringify(value)}`,
      'give nearest and farthest in metres, 0 or more',
    );
  } else if (nearest > farthest) {
    report(path, 'has its nearest beyond its farthest', 'swap them');
  }
}

function checkText(value: unknown, path: string, report: Report): void {
  if (typeof value !== 'string' || value.trim() === '') report(path, 'is empty', 'write it out');
}

function wholeFrom(least: number): ValueCheck {
  return (value, path, report) => {
    if (!isWhole(value) || value < least) {
      report(path, `is ${JSON.stringify(value)}`, `give a whole number, ${least} or more`);
    }
  };
}

function numberBetween(least: number, most: number, remedy: string): ValueCheck {
  return (value, path, report) => {
    if (!isNumber(value) || value < least || value > most) {
      report(path, `is ${JSON.stringify(value)}`, `give ${remedy}`);
    }
  };
}

function moreThanZero(unit: string): ValueCheck {
  return (value, path, report) => {
    if (!isNumber(value) || value <= 0)
      report(path, `is ${JSON.stringify(value)}`, `give ${unit}, more than 0`);
  };
}

function notNegative(unit: string): ValueCheck {
  return (value, path, report) => {
    if (!isNumber(value) || value < 0) report(path, `is ${JSON.stringify(value)}`, `give ${unit}, 0 or more`);
  };
}

function oneOf(...words: readonly string[]): ValueCheck {
  return (value, path, report) => {
    if (typeof value !== 'string' || !words.includes(value)) {
      report(path, `is ${JSON.stringify(value)}`, `choose one of: ${words.join(', ')}`);
    }
  };
}

function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
function isNumber(value: unknown): value is number {
  return typeof value === 'number' && Number.isFinite(value);
}
function isWhole(value: unknown): value is number {
  return isNumber(value) && Number.isInteger(value);
}
