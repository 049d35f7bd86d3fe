import { formatLength, parseLength } from '@sillwatch/ring';
import type { LabelProfile, WindowRule } from '@sillwatch/trade';
import { decimalFault, decimalOf } from '../../shared/decimal.ts';
import type { Words } from '../../words/index.ts';

/** The numbers of a label profile, by how they are written down. */
export const WINDOW_FIELDS = [
  'firstCheck',
  'check',
  'baitedCheck',
  'yearlyService',
  'carriedOverService',
  'missedStation',
] as const satisfies readonly (keyof LabelProfile)[];
export const NUMBER_FIELDS = [
  'missesBeforeReplacement',
  'addBaitAtOrUnder',
  'baitGramsPerInsert',
  'clearAfterChecks',
  'auxiliaryStations',
] as const satisfies readonly (keyof LabelProfile)[];
export const LENGTH_FIELDS = [
  'greatestSpacingMetres',
  'treatedSoilClearanceMetres',
  'concernDistanceMetres',
] as const satisfies readonly (keyof LabelProfile)[];
export const CHOICE_FIELDS = {
  idleBait: ['stays', 'renewed', 'withdrawn'],
  clearBait: ['stays', 'withdrawn'],
  monitorWithSigns: ['kept', 'renewed'],
} as const satisfies Partial<Record<keyof LabelProfile, readonly string[]>>;
export const CHOICES = ['idleBait', 'clearBait', 'monitorWithSigns'] as const;

export type SourcedField =
  | (typeof WINDOW_FIELDS)[number]
  | (typeof NUMBER_FIELDS)[number]
  | (typeof LENGTH_FIELDS)[number]
  | (typeof CHOICES)[number]
  | 'setbackMetres';

export const SOURCED_FIELDS: readonly SourcedField[] = [
  ...WINDOW_FIELDS,
  ...NUMBER_FIELDS,
  ...CHOICES,
  ...LENGTH_FIELDS,
  'setbackMetres',
];

/** What stands in the form: text as typed, so that nothing is lost while it is not yet right. */
export interface SourcedDraft {
  /** One text a box: six for a window, two for the set-back, one otherwise. */
  readonly boxes: readonly string[];
  readonly source: string;
  readonly invented: boolean;
}
export interface ProfileDraft {
  readonly id: string;
  readonly name: string;
  readonly productName: string;
  readonly epaRegistrationNumber: string;
  readonly activeIngredient: string;
  readonly activeIngredientPercent: string;
  readonly sourced: ReadonlyMap<SourcedField, SourcedDraft>;
}

/** Boxes of a field: a window has months and days of its first day, its target and its last day. */
function boxCount(field: SourcedField): number {
  if (WINDOW_FIELDS.some((one) => one === field)) return 6;
  return field === 'setbackMetres' ? 2 : 1;
}

function emptySourced(field: SourcedField): SourcedDraft {
  return { boxes: Array.from({ length: boxCount(field) }, () => ''), source: '', invented: false };
}

export function sourcedOf(draft: ProfileDraft, field: SourcedField): SourcedDraft {
  return draft.sourced.get(field) ?? emptySourced(field);
}

/** A draft with nothing filled in: the numbers of a label are never guessed. */
export function emptyDraft(id: string): ProfileDraft {
  const sourced = new Map(SOURCED_FIELDS.map((field) => [field, emptySourced(field)]));
  return {
    id,
    name: '',
    productName: '',
    epaRegistrationNumber: '',
    activeIngredient: '',
    activeIngredientPercent: '',
    sourced,
  };
}

export function draftOf(profile: LabelProfile): ProfileDraft {
  const sourced = new Map(
    SOURCED_FIELDS.map((field) => {
      const { source, invented } = profile[field];
      return [field, { boxes: boxesOf(profile, field), source, invented }];
    }),
  );
  return {
    id: profile.id,
    name: profile.name,
    productName: profile.product.name,
    epaRegistrationNumber: profile.product.epaRegistrationNumber,
    activeIngredient: profile.product.activeIngredient,
    activeIngredientPercent: String(profile.product.activeIngredientPercent),
    sourced,
  };
}

function boxesOf(profile: LabelProfile, field: SourcedField): readonly string[] {
  switch (field) {
    case 'setbackMetres':
      return [profile[field].value.nearest, profile[field].value.farthest].map(lengthText);
    case 'greatestSpacingMetres':
    case 'treatedSoilClearanceMetres':
    case 'concernDistanceMetres':
      return [lengthText(profile[field].value)];
    case 'idleBait':
    case 'clearBait':
    case 'monitorWithSigns':
      return [profile[field].value];
    case 'missesBeforeReplacement':
    case 'addBaitAtOrUnder':
    case 'baitGramsPerInsert':
    case 'clearAfterChecks':
    case 'auxiliaryStations':
      return [String(profile[field].value)];
    case 'firstCheck':
    case 'check':
    case 'baitedCheck':
    case 'yearlyService':
    case 'carriedOverService':
    case 'missedStation': {
      const { earliest, target, latest } = profile[field].value;
      return [earliest, target, latest].flatMap(({ months, days }) => [String(months), String(days)]);
    }
  }
}

/** In feet and inches where that says the same to the last digit, else in metres: a number of the label is not rounded. */
function lengthText(metres: number): string {
  const inFeet = formatLength(metres, { style: 'feet and inches' });
  return lengthOf(inFeet) === metres ? inFeet : `${metres} m`;
}

export const PERCENT = { most: 100 };

/** Why the numbers of a field cannot be read, in words. */
export function readingFault(field: SourcedField, draft: ProfileDraft, w: Words): string | undefined {
  if (![...WINDOW_FIELDS, ...NUMBER_FIELDS].some((one) => one === field)) return undefined;
  return sourcedOf(draft, field)
    .boxes.map((box) => decimalFault(box, w))
    .find((fault) => fault !== undefined);
}

/** The draft as a profile to be checked; a box that holds no number comes out as NaN, which the check names. */
export function profileOfDraft(draft: ProfileDraft): unknown {
  const fields = Object.fromEntries(
    SOURCED_FIELDS.map((field) => {
      const { boxes, source, invented } = sourcedOf(draft, field);
      return [field, { value: readValue(field, boxes), source: source.trim(), invented }];
    }),
  );
  return {
    id: draft.id,
    name: draft.name.trim(),
    invented: SOURCED_FIELDS.some((field) => sourcedOf(draft, field).invented),
    product: {
      name: draft.productName.trim(),
      epaRegistrationNumber: draft.epaRegistrationNumber.trim(),
      activeIngredient: draft.activeIngredient.trim(),
      activeIngredientPercent: decimalOf(draft.activeIngredientPercent, PERCENT),
    },
    ...fields,
  };
}

function readValue(field: SourcedField, boxes: readonly string[]): unknown {
  const [first = '', second = ''] = boxes;
  if (CHOICES.some((one) => one === field)) return first;
  if (field === 'setbackMetres') return { nearest: lengthOf(first), farthest: lengthOf(second) };
  if (LENGTH_FIELDS.some((one) => one === field)) return lengthOf(first);
  if (NUMBER_FIELDS.some((one) => one === field)) return decimalOf(first);
  const at = (index: number): WindowRule['earliest'] => ({
    months: decimalOf(boxes[index] ?? ''),
    days: decimalOf(boxes[index + 1] ?? ''),
  });
  return { earliest: at(0), target: at(2), latest: at(4) };
}

function lengthOf(text: string): number {
  const read = parseLength(text);
  return read.ok ? read.metres : Number.NaN;
}
