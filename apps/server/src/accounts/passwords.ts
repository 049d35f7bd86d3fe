import { randomInt } from 'node:crypto';
import { Problem } from '../http/problems.ts';
import { MAX_PASSWORD, MIN_PASSWORD } from './library.ts';

/** Without the letters and digits that are mistaken for one another when read aloud (0 O 1 l I 5 S). */
const ALPHABET = 'abcdefghjkmnpqrtuvwxyz2346789';

/** Four groups of four from 29 signs: 77 bits, to be read over the telephone, used once. */
export function createOneTimePassword(): string {
  const group = () => Array.from({ length: 4 }, () => ALPHABET[randomInt(ALPHABET.length)]).join('');
  return [group(), group(), group(), group()].join('-');
}

/** Throws `password too weak`: the length, one sign repeated, or the person's own e-mail or name. */
export function checkPassword(
  password: string,
  about: { readonly email: string; readonly name: string },
): void {
  const length = [...password].length;
  if (length < MIN_PASSWORD || length > MAX_PASSWORD) {
    throw new Problem('password too weak', `The password has ${length} characters.`);
  }
  if (new Set(password).size < 5) {
    throw new Problem('password too weak', 'The password repeats fewer than five different characters.');
  }
  const lower = password.toLowerCase();
  const isOwn = [about.email, about.email.split('@')[0] ?? '', about.name].some(
    (own) => own.length >= 4 && lower.replaceAll(own.toLowerCase(), '').length < 6,
  );
  if (isOwn)
    throw new Problem('password too weak', 'The password is little more than the e-mail or the name.');
}
