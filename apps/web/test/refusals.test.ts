import { describe, expect, it } from 'vitest';
import { ProblemError, UnreachableError } from '../src/api/client.ts';
import { FactRefusedError } from '../src/api/office.ts';
import { refusalWords } from '../src/shared/refusalWords.ts';
import { en } from '../src/words/en.ts';
import { words as es } from '../src/words/es.ts';
import type { Words } from '../src/words/index.ts';

const english = en as Words;
const spanish = es as Words;
const inUse = new ProblemError({
  title: 'This e-mail address belongs to an account already',
  status: 409,
  code: 'e-mail in use',
  detail: 'An account with this e-mail address exists.',
  remedy: 'for programs',
});

describe('what was refused', () => {
  it('is said in the server’s sentence where the reader has its language, with the remedy of the screen', () => {
    expect(refusalWords(inUse, english)).toBe(
      'An account with this e-mail address exists. Use another address, or bring the existing person back.',
    );
  });

  it('is said in Spanish, with what to do, and then in the server’s sentence', () => {
    expect(refusalWords(inUse, spanish)).toBe(
      'Esta dirección de correo ya pertenece a una cuenta. Use otra dirección, o traiga de vuelta a la persona que ya existe. ' +
        'El servidor dice, en inglés: An account with this e-mail address exists.',
    );
  });

  it('names each place, and leaves out what nobody said', () => {
    const places = new ProblemError({
      title: 'The request cannot be read',
      status: 400,
      code: 'malformed',
      errors: [{ at: 'body.day', message: 'give a day that exists' }],
    });
    expect(refusalWords(places, english)).toContain('body.day: give a day that exists.');
    expect(refusalWords(places, spanish)).toMatch(/en inglés: body\.day: give a day that exists\.$/);
    const bare = new ProblemError({ title: 'The server failed', status: 500, code: 'internal' });
    expect(refusalWords(bare, spanish)).not.toContain('en inglés');
  });

  it('takes what the server said in the reader’s language for its own', () => {
    const unread = new ProblemError({
      title: 'The file was not imported; nothing was changed',
      status: 422,
      code: 'import refused',
      detail: 'The file cannot be read.',
      errors: [{ at: 'libro.csv', message: 'está vacío. Elija otro archivo.' }],
      lang: 'es-US',
    });
    expect(refusalWords(unread, spanish)).toBe(
      'El archivo no se importó; nada cambió. libro.csv: está vacío. Elija otro archivo. ' +
        'Corrija en el archivo los lugares que se nombran y revíselo de nuevo.',
    );
  });

  it('passes on what it does not know: a newer server, a record, no answer at all', () => {
    const newer = new ProblemError({
      title: 'Not on Sundays',
      status: 409,
      code: 'sunday',
      remedy: 'Come Monday.',
    });
    expect(refusalWords(newer, english)).toBe('Not on Sundays Come Monday.');
    expect(refusalWords(newer, spanish)).toBe('Not on Sundays. Come Monday.');
    const record = new FactRefusedError({
      code: 'legal field missing',
      detail: 'body.application.grams is missing',
    });
    expect(refusalWords(record, english)).toBe('body.application.grams is missing');
    expect(refusalWords(record, spanish)).toMatch(
      /^Al registro de uso .* en inglés: body\.application\.grams/,
    );
    expect(refusalWords(new UnreachableError('no answer'), spanish)).toBe(
      `${es.problem.offline} ${es.problem.offlineRemedy}`,
    );
  });
});
