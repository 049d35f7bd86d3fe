import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { PAIRS, YARD_PAIRS } from '../src/tokens/pairs.ts';

/**
 * Outside check: contrast ratio and relative luminance as WCAG 2.2 defines them (success criteria 1.4.3, 1.4.6, 1.4.11;
 * glossary "contrast ratio", "relative luminance"), computed here from the tokens' own file.
 */
const css = readFileSync(new URL('../src/tokens/tokens.css', import.meta.url), 'utf8');

describe('colour tokens', () => {
  const tokens = readTokens();

  it('are read from the file', () => {
    expect(tokens.size).toBeGreaterThan(25);
  });

  it('agree with the published examples of the formula', () => {
    // Black on white is 21:1 by definition; #767676 is the lightest grey that passes 4.5:1 on white (WebAIM, contrast article).
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
    expect(contrast('#767676', '#ffffff')).toBeGreaterThan(4.5);
    expect(contrast('#777777', '#ffffff')).toBeLessThan(4.5);
  });

  for (const theme of ['light', 'dark'] as const) {
    it.each(PAIRS)(`${theme}: $ink on $ground reaches $least`, ({ ink, ground, least }) => {
      const ratio = contrast(colour(ink, theme), colour(ground, theme));
      expect(ratio, `${ink} on ${ground}: ${ratio.toFixed(2)}`).toBeGreaterThanOrEqual(least);
    });
  }

  for (const theme of ['light', 'dark'] as const) {
    it.each(YARD_PAIRS)(`in the yard, ${theme}: $ink on $ground reaches 7`, ({ ink, ground, least }) => {
      expect(least).toBe(7);
      const ratio = contrast(colour(ink, theme), colour(ground, theme));
      expect(ratio, `${ink} on ${ground}: ${ratio.toFixed(2)}`).toBeGreaterThanOrEqual(least);
    });
  }

  function colour(name: string, theme: 'light' | 'dark'): string {
    const token = tokens.get(name);
    if (token === undefined) throw new Error(`tokens.css has no --${name}`);
    return token[theme];
  }
});

it('names no colour outside the tokens', () => {
  const files = [
    'tokens/base.css',
    'shared/shared.css',
    'desk/shell.css',
    'desk/desk.css',
    'desk/station.css',
    'field/field.css',
  ];
  for (const file of files) {
    const text = readFileSync(new URL(`../src/${file}`, import.meta.url), 'utf8');
    expect(text.match(/#[0-9a-f]{3,8}\b|rgba?\(|hsla?\(/gi), file).toBeNull();
  }
});

function readTokens(): ReadonlyMap<string, { readonly light: string; readonly dark: string }> {
  const found = css.matchAll(/--([\w-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)/g);
  return new Map(
    [...found].map(([, name, light, dark]) => [name ?? '', { light: light ?? '', dark: dark ?? '' }]),
  );
}

function contrast(a: string, b: string): number {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return ((light ?? 0) + 0.05) / ((dark ?? 0) + 0.05);
}

function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const channel = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * (r ?? 0) + 0.7152 * (g ?? 0) + 0.0722 * (b ?? 0);
}
