import { getDay } from '@sillwatch/trade/units';
import { describe, expect, it } from 'vitest';
import { guessMapping, type ImportPlan, planImport, readTable } from '../../src/intake/index.ts';
import * as EN from '../../src/intake/words/en.ts';
import * as ES from '../../src/intake/words/es.ts';
import { tellIn } from '../../src/intake/words/tell.ts';
import type { PaperLanguage } from '../../src/report/words/say.ts';

const holes = (text: string): readonly string[] => [...new Set(text.match(/\{\w+\}/g))].toSorted();

describe('what stands in the way of an import', () => {
  it.each([
    ['cells', EN.CELL_PROBLEMS, ES.CELL_PROBLEMS],
    ['files', EN.FILE_PROBLEMS, ES.FILE_PROBLEMS],
  ])('%s: has a reason and a remedy in each language, of the same parts', (_, ofEnglish, ofSpanish) => {
    const [english, spanish] = [new Map(Object.entries(ofEnglish)), new Map(Object.entries(ofSpanish))];
    expect([...spanish.keys()].toSorted()).toEqual([...english.keys()].toSorted());
    for (const [key, [reason, remedy]] of english) {
      const [ownReason = '', ownRemedy = ''] = spanish.get(key) ?? [];
      expect(holes(ownReason + ownRemedy), key).toEqual(holes(reason + remedy));
      expect([ownReason, ownRemedy]).not.toEqual([reason, remedy]);
      for (const text of [remedy, ownRemedy]) expect(text, key).toMatch(/^[\p{Lu}].*\.$/u);
    }
  });

  it('notes have the same parts in each language', () => {
    const spanish = new Map<string, string>(Object.entries(ES.NOTES));
    for (const [key, text] of Object.entries(EN.NOTES))
      expect(holes(spanish.get(key) ?? ''), key).toEqual(holes(text));
  });

  it('is refused by name when a part is left out', () => {
    expect(() => tellIn('en-US').cell('no number', { least: 1 })).toThrow('{most}');
  });
});

const FILES = {
  'propiedades.csv': `Account No,Property Name,Street,Zip,Renewal Date,Latitude
A-1,Casa Marisma,1 Gull Court,00011,31/02/2027,
A-2,,,,,95
`,
  'estaciones.csv': `Account No,Station,Model,Date Installed
A-1,0,two-part,03/14/2024
A-9,1,two-part,03/14/2024
`,
};

function planIn(lang: PaperLanguage, files: Readonly<Record<string, string>>): ImportPlan {
  const tables = Object.entries(files).map(([name, text]) => {
    const result = readTable(new TextEncoder().encode(text), name, undefined, lang);
    if (!result.ok) throw new Error(result.problem.reason);
    return result.table;
  });
  const { mapping } = guessMapping(tables, lang);
  return planImport({
    tables,
    mapping: { ...mapping, defaults: { timeZone: 'America/New_York' } },
    context: {
      firm: 'firm-1',
      by: 'person-1',
      today: getDay('2026-11-25'),
      existing: [],
      findKnown: () => undefined,
      branches: [{ id: 'harbour', name: 'harbour' }],
      profiles: [{ id: 'demo', name: 'demo' }],
    },
    lang,
  });
}

describe('an import in Spanish', () => {
  it('names the same cells as in English, each with its reason and remedy in Spanish', () => {
    const [english, spanish] = [planIn('en-US', FILES), planIn('es-US', FILES)];
    const where = ({ problems }: ImportPlan) => problems.map(({ file, row, value }) => [file, row, value]);
    expect(english.problemCount).toBeGreaterThan(3);
    expect(where(spanish)).toEqual(where(english));
    spanish.problems.forEach(({ reason, remedy }, index) => {
      expect(reason).not.toBe(english.problems[index]?.reason);
      expect(remedy).not.toBe(english.problems[index]?.remedy);
    });
    expect(spanish.problems.map(({ reason }) => reason)).toContain('no es una fecha que exista');
    expect(spanish.problems.map(({ column }) => column).join()).not.toMatch(/no column/);
  });

  it('records just what it records in English: importing again in the other language finds all of it known', () => {
    const good = {
      'book.csv': `Account No,Property Name,Street,Zip,Station,Model,Date Installed
A-1,Casa Marisma,1 Gull Court,00011,1,always baited,03/14/2024
`,
    };
    const [english, spanish] = [planIn('en-US', good), planIn('es-US', good)];
    expect(english.facts.length).toBeGreaterThan(2);
    expect(spanish.facts).toEqual(english.facts);
    expect(JSON.stringify(english.facts)).toContain('the use record is with book.csv, row 2');
  });

  it('says of a file why it cannot be read, and warns of its letters, in Spanish', () => {
    const empty = readTable(new Uint8Array(), 'a.csv', undefined, 'es-US');
    expect(empty).toEqual({
      ok: false,
      problem: { file: 'a.csv', reason: 'está vacío', remedy: 'Elija otro archivo.' },
    });
    const old = readTable(Uint8Array.from([97, 44, 0xf1, 10, 49, 44, 50, 10]), 'b.csv', undefined, 'es-US');
    expect(old.ok && old.table.warnings).toEqual([ES.NOTES['not UTF-8']]);
  });
});
