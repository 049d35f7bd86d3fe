import { type Day, GRAMS_PER_OUNCE, type LabelProfile } from '@sillwatch/trade';
import { toCsv } from '../csv.ts';
import type { Block, Document, TableRow } from '../document/model.ts';
import type { RecordRow } from './applicationRecords.ts';
import { type FirmCard, paperFrame } from './firm.ts';
import { dayInWords, massInWords, plainNumber, shortDay, stationInWords } from './format.ts';
import { addressInWords } from './properties.ts';
import { ENTRY_FIELDS, recordFieldsFor } from './recordFields.ts';
import type { RecordFilter } from './recordFilter.ts';
import { type PaperLanguage, type Say, sayIn } from './words/say.ts';

export interface RecordPaperInput {
  readonly firm: FirmCard;
  readonly rows: readonly RecordRow[];
  readonly filter: RecordFilter;
  /** The profiles that the firm has used: the paper says so when one of them is invented. */
  readonly profiles: readonly LabelProfile[];
  /** RFC 3339 with offset. */
  readonly writtenAt: string;
  readonly lang?: PaperLanguage;
}

/** The record as RFC 4180 CSV: one row a wording, every field of the floor, "not recorded" where a required one is blank. */
export function recordCsv(
  rows: readonly RecordRow[],
  filter: RecordFilter = {},
  lang: PaperLanguage = 'en-US',
): string {
  const say = sayIn(lang);
  const fields = [...recordFieldsFor(statesOf(rows, filter)), ...ENTRY_FIELDS];
  return toCsv(
    fields.map((field) => say(`field.${field.key}`)),
    rows.map((row) =>
      fields.map((field) => {
        if (field.key === 'standing') return say(`status.${row.standing}`);
        return field.read(row) ?? (field.required ? say('not recorded') : null);
      }),
    ),
  );
}

/** The record as a paper, landscape: entries oldest first, totals of those in force, gaps named, and what each field answers. */
export function recordDocument(input: RecordPaperInput): Document {
  const say = sayIn(input.lang ?? 'en-US');
  const { rows, filter } = input;
  const states = statesOf(rows, filter);
  const invented = input.profiles.some((profile) => profile.invented);
  return {
    ...paperFrame(say, input.firm, input.writtenAt, invented),
    title: say('record.title'),
    subtitle: periodInWords(filter, say),
    layout: 'landscape',
    blocks: [
      ...opening(rows, filter, say),
      ...entries(rows, states, say),
      ...totals(rows, say),
      ...gaps(rows, say),
      ...fieldList(states, say),
    ],
  };
}

function statesOf(rows: readonly RecordRow[], filter: RecordFilter): readonly string[] {
  if (filter.states !== undefined) return filter.states;
  return [
    ...new Set(rows.flatMap((row) => (row.property.state === null ? [] : [row.property.state]))),
  ].sort();
}

function periodInWords(filter: RecordFilter, say: Say): string {
  const words = (day: Day) => dayInWords(day, say.lang);
  if (filter.from !== undefined && filter.to !== undefined)
    return say('record.subtitle', { from: words(filter.from), to: words(filter.to) });
  if (filter.from !== undefined) return say('record.subtitle.from', { from: words(filter.from) });
  if (filter.to !== undefined) return say('record.subtitle.to', { to: words(filter.to) });
  return say('record.subtitle.all');
}

function isInForce(row: RecordRow): boolean {
  return row.standing === 'in force' || row.standing === 'correction';
}

function opening(rows: readonly RecordRow[], filter: RecordFilter, say: Say): readonly Block[] {
  const inForce = rows.filter(isInForce);
  const total = inForce.reduce((sum, row) => sum + (row.application.grams ?? 0), 0);
  const nameOf = (id: string) => rows.find((row) => row.propertyId === id)?.property.name ?? id;
  const items = [
    ...(filter.property === undefined
      ? []
      : [{ key: say('record.filter.property'), value: nameOf(filter.property) }]),
    ...(filter.epaRegistrationNumber === undefined
      ? []
      : [{ key: say('record.filter.product'), value: filter.epaRegistrationNumber }]),
    ...(filter.applicator === undefined
      ? []
      : [{ key: say('record.filter.technician'), value: filter.applicator }]),
  ];
  return [
    {
      kind: 'paragraph',
      tone: 'lead',
      text: say('record.lead.rest', {
        lead: say('record.lead', { n: inForce.length }),
        total: total === 0 ? say('grams.unit', { grams: 0 }) : massInWords(total, say),
      }),
    },
    ...(items.length === 0 ? [] : [{ kind: 'details', items } as const]),
  ];
}

function entries(rows: readonly RecordRow[], states: readonly string[], say: Say): readonly Block[] {
  const heading: Block = { kind: 'heading', level: 2, text: say('record.entries') };
  if (rows.length === 0) return [heading, { kind: 'paragraph', tone: 'body', text: say('record.none') }];
  const columns = [
    { header: say('record.col.when'), align: 'left', share: 12 },
    { header: say('record.col.product'), align: 'left', share: 15 },
    { header: say('record.col.amount'), align: 'right', share: 9 },
    { header: say('record.col.where'), align: 'left', share: 27 },
    { header: say('record.col.area'), align: 'left', share: 17 },
    { header: say('record.col.applicator'), align: 'left', share: 15 },
    { header: say('record.col.status'), align: 'left', share: 24, steady: true },
  ] as const;
  return [
    heading,
    {
      kind: 'table',
      caption: say('record.caption'),
      columns,
      rows: rows.map((row) => entryRow(row, states, say)),
    },
  ];
}

function entryRow(row: RecordRow, states: readonly string[], say: Say): TableRow {
  const { application, property } = row;
  const blank = say('not recorded');
  const shown = (value: string | null) => value ?? blank;
  const postcodeAsked = recordFieldsFor(states).some((field) => field.key === 'postcode');
  const where = [
    shown(property.customerName),
    shown(addressInWords(property)),
    ...(postcodeAsked && property.postcode === null ? [`${say('field.postcode')}: ${blank}`] : []),
    row.station === null
      ? shown(application.location)
      : `${stationInWords(row.station.number, row.station.structureName, say)}: ${shown(application.location)}`,
  ];
  return {
    cells: [
      [shown(row.date), shown(row.time)].join('\n'),
      [shown(application.productName), shown(application.epaRegistrationNumber)].join('\n'),
      application.grams === null
        ? blank
        : `${plainNumber(application.grams)} g\n${(application.grams / GRAMS_PER_OUNCE).toFixed(2)} oz`,
      where.join('\n'),
      [shown(application.areaTreated), shown(application.site)].join('\n'),
      [
        shown(application.applicatorName),
        shown(application.certificationNumber),
        ...(application.appliedUnderSupervisionBy === null
          ? []
          : [`${say('field.appliedUnderSupervisionBy')}: ${application.appliedUnderSupervisionBy}`]),
      ].join('\n'),
      standingInWords(row, say),
    ],
    look: isInForce(row) ? 'plain' : 'struck',
  };
}

function standingInWords(row: RecordRow, say: Say): string {
  const status = say(`status.${row.standing}`);
  const why = row.why ?? say('not recorded');
  const lines: string[] = [];
  if (row.standing === 'in force') lines.push(status);
  else if (row.endedOn === null) lines.push(say('status.why', { status, why }));
  else lines.push(say('status.by', { status, why, day: shortDay(row.endedOn, say.lang) }));
  if (row.doubtfulAt !== null) lines.push(say('record.doubtful', { at: row.doubtfulAt }));
  lines.push(`${say('field.entry')}: ${row.entry}`);
  if (row.corrects !== null) lines.push(`${say('field.corrects')}: ${row.corrects}`);
  if (row.endedBy !== null) lines.push(`${say('field.replacedBy')}: ${row.endedBy}`);
  return lines.join('\n');
}

function totals(rows: readonly RecordRow[], say: Say): readonly Block[] {
  const sums = new Map<string, { product: string; number: string; grams: number; count: number }>();
  for (const { application } of rows.filter(isInForce)) {
    const product = application.productName ?? say('not recorded');
    const number = application.epaRegistrationNumber ?? say('not recorded');
    const key = `${number} ${product}`;
    const sum = sums.get(key) ?? { product, number, grams: 0, count: 0 };
    sums.set(key, { ...sum, grams: sum.grams + (application.grams ?? 0), count: sum.count + 1 });
  }
  if (sums.size === 0) return [];
  return [
    { kind: 'heading', level: 2, text: say('record.totals') },
    {
      kind: 'table',
      caption: say('record.totals.caption'),
      columns: [
        { header: say('record.totals.col.product'), align: 'left', share: 4 },
        { header: say('record.totals.col.number'), align: 'left', share: 3 },
        { header: say('record.totals.col.applications'), align: 'right', share: 2 },
        { header: say('record.totals.col.amount'), align: 'right', share: 3 },
      ],
      rows: [...sums.values()].map((sum) => ({
        cells: [sum.product, sum.number, String(sum.count), massInWords(sum.grams, say)],
        look: 'plain',
      })),
    },
  ];
}

function gaps(rows: readonly RecordRow[], say: Say): readonly Block[] {
  const items = rows
    .filter((row) => isInForce(row) && row.missing.length > 0)
    .map((row) =>
      say('record.gap', {
        when: row.date ?? say('not recorded'),
        entry: row.entry,
        fields: row.missing.map((key) => say(`field.${key}`)).join(', '),
      }),
    );
  return items.length === 0 ? [] : [{ kind: 'caution', title: say('record.gaps'), items }];
}

function fieldList(states: readonly string[], say: Say): readonly Block[] {
  return [
    { kind: 'heading', level: 2, text: say('record.fields') },
    {
      kind: 'table',
      caption: say('record.fields.caption'),
      columns: [
        { header: say('record.fields.col.field'), align: 'left', share: 1 },
        { header: say('record.fields.col.source'), align: 'left', share: 2 },
      ],
      rows: recordFieldsFor(states)
        .filter((field) => field.source !== 'ours')
        .map((field) => ({ cells: [say(`field.${field.key}`), field.source], look: 'plain' })),
    },
  ];
}
