import type { Point } from '../site/model.ts';

type Attributes = Readonly<Record<string, string | number | undefined>>;

/** One element; attribute values and nothing else are escaped, so children must be elements or escaped text. */
export function element(name: string, attributes: Attributes, ...children: readonly string[]): string {
  const written = Object.entries(attributes)
    .flatMap(([key, value]) =>
      value === undefined
        ? []
        : [` ${key}="${typeof value === 'number' ? short(value) : writeText(key, value)}"`],
    )
    .join('');
  return children.length === 0 ? `<${name}${written}/>` : `<${name}${written}>${children.join('')}</${name}>`;
}

/** Path data and dashes are put together from numbers: these are shortened too. */
function writeText(key: string, value: string): string {
  if (key !== 'd' && key !== 'stroke-dasharray') return escapeText(value);
  return value.replace(/-?\d+\.\d{3,}/g, (number) => short(Number(number)));
}

/** Text that is safe in content and in attributes; characters that XML 1.0 does not know become a replacement sign. */
export function escapeText(text: string): string {
  return text
    .toWellFormed()
    .replace(/[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu, '\u{FFFD}')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;');
}

/** At most two decimals: a hundredth of a pixel or of a millimetre is finer than any screen or printer. */
export function short(value: number): string {
  return String(Math.round(value * 100) / 100 + 0);
}

export function pathData(points: readonly Point[], isClosed: boolean): string {
  const steps = points.map((point, index) => `${index === 0 ? 'M' : 'L'}${short(point.x)} ${short(point.y)}`);
  return steps.join('') + (isClosed ? 'Z' : '');
}
