import { readdirSync } from 'node:fs';
import type { RefusalCode } from '@sillwatch/ledger';
import { PROBLEMS } from '@sillwatch/server';
import { CAUTIONS, PARTS, RULE_TABLES, STATION_MODELS, STEP_IDS, TELL_WORDS } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import type { Words, YardWords } from '../../src/words/index.ts';

const FOLDER = new URL('../../src/words/', import.meta.url);
const CODES = readdirSync(FOLDER)
  .filter((name) => /^[a-z]{2}\.ts$/.test(name))
  .map((name) => name.slice(0, 2));

async function wordsOf(code: string): Promise<Words> {
  const { words } = (await import(new URL(`${code}.ts`, FOLDER).href)) as { readonly words: YardWords };
  const { desk } = (await import(new URL(`${code}.desk.ts`, FOLDER).href)) as Pick<Words, 'desk'>;
  return { ...words, desk };
}

/** Every key down to its words, as a path; a list counts as the number of its lines. */
function pathsOf(value: unknown, path = ''): readonly string[] {
  if (typeof value === 'string' || typeof value === 'function' || typeof value === 'boolean') return [path];
  if (Array.isArray(value)) return [`${path} of ${value.length}`];
  return Object.entries(value as object).flatMap(([key, one]) => pathsOf(one, `${path}/${key}`));
}

function textsOf(value: unknown, path = ''): readonly (readonly [string, string])[] {
  if (typeof value === 'string') return [[path, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, one]) => textsOf(one, `${path}/${key}`));
}

/** Words that are the same in both languages, or a name. */
const ALIKE = new Set(
  '/app/name /desk/plan/title /nav/plan /formats/pdf /formats/csv /roles/inspector /inserts/monitor /slots/monitor /field/practice/differs/monitor /baitLeft/three quarters /baitLeft/half /baitLeft/a quarter'.split(
    ' /',
  ),
);

describe('languages', () => {
  it('are at least English and Spanish', () => {
    expect(CODES).toEqual(expect.arrayContaining(['en', 'es']));
  });

  describe.each(CODES)('%s', (code) => {
    it('has every key of English, and none besides', async () => {
      const [english, words] = [await wordsOf('en'), await wordsOf(code)];
      expect(pathsOf(english).length).toBeGreaterThan(700);
      expect(pathsOf(words).toSorted()).toEqual(pathsOf(english).toSorted());
    });

    it('leaves no words empty that English has', async () => {
      const english = new Map(textsOf(await wordsOf('en')));
      const empty = textsOf(await wordsOf(code)).filter(
        ([path, text]) => text.trim() === '' && english.get(path) !== '',
      );
      expect(empty).toEqual([]);
    });

    it('says each step, caution, word to the customer, part and model that the rules know', async () => {
      const words = await wordsOf(code);
      expect(Object.keys(words.steps).toSorted()).toEqual([...STEP_IDS].toSorted());
      expect(Object.keys(words.cautions).toSorted()).toEqual(Object.keys(CAUTIONS).toSorted());
      expect(Object.keys(words.tell).toSorted()).toEqual(Object.keys(TELL_WORDS).toSorted());
      expect(Object.keys(words.parts).toSorted()).toEqual(Object.keys(PARTS).toSorted());
      for (const model of STATION_MODELS) {
        expect(words.models, model.name).toHaveProperty([model.name]);
        for (const slot of model.slots) expect(words.slots, slot.label).toHaveProperty([slot.label]);
      }
    });

    it('says each refusal that the server and its ledger know, with a remedy that a screen can ask for', async () => {
      const { problems, records } = (await wordsOf(code)).refusals;
      expect(Object.keys(problems).toSorted()).toEqual(Object.keys(PROBLEMS).toSorted());
      const codes: Record<RefusalCode, true> = {
        malformed: true,
        'other firm': true,
        'id reused with other content': true,
        'legal field missing': true,
        'not allowed': true,
      };
      expect(Object.keys(records).toSorted()).toEqual(Object.keys(codes).toSorted());
      for (const [title, remedy] of Object.values(problems)) {
        expect(title).not.toMatch(/[.`]/);
        // Names of the interface, of settings and of commands are for programs.
        expect(remedy).toMatch(/\.$/);
        expect(remedy).not.toMatch(/`|[A-Z]+_[A-Z]|\/api\/|sillwatch /);
      }
    });

    it('writes numbers, lengths and counted nouns of its own place', async () => {
      const { format, locale } = await wordsOf(code);
      expect(Intl.getCanonicalLocales(locale)).toEqual([locale]);
      expect(format.number(1234567)).toBe(new Intl.NumberFormat(locale).format(1234567));
      expect(format.plural(1, 'a', 'b')).toContain('a');
      expect(format.plural(2, 'a', 'b')).toContain('b');
    });
  });
});

describe('Spanish', () => {
  it('is not English left over', async () => {
    const english = new Map(textsOf(await wordsOf('en')));
    const same = textsOf(await wordsOf('es')).filter(
      ([path, text]) =>
        english.get(path) === text && /[a-z]{4}/i.test(text) && !ALIKE.has(path.slice(1)) && !ALIKE.has(path),
    );
    expect(same.map(([path]) => path)).toEqual([]);
  });

  it('says the reason of every row of every rule table, each in words of its own, and none that is gone', async () => {
    const { reasons } = await import('../../src/words/es.rules.ts');
    const wanted = RULE_TABLES.flatMap(({ id, rows }) => rows.map((row) => `${id}, ${row.id}`));
    const said = Object.entries(reasons).flatMap(([table, rows]) =>
      Object.keys(rows).map((row) => `${table}, ${row}`),
    );
    expect(wanted.length).toBeGreaterThan(100);
    expect(said.toSorted()).toEqual(wanted.toSorted());
    const words = await wordsOf('es');
    for (const { id, rows } of RULE_TABLES)
      for (const row of rows) expect(words.reason(id, row.id, row.reads)).not.toBe(row.reads);
  });
});

describe('a length', () => {
  it('is told in feet in the United States and in metres elsewhere', async () => {
    const { formatIn } = await import('../../src/words/format.ts');
    // 30.48 m = 100 international feet (NIST SP 811, appendix B.8).
    expect(formatIn('en-US').length(30.48)).toBe('100 ft');
    expect(formatIn('es-US').length(30.48)).toBe('100 ft');
    expect(formatIn('fr-CA').length(30.48)).toMatch(/^30,5\sm$/);
  });
});
