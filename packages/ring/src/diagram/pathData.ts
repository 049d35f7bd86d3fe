import type { Point } from '../site/model.ts';

/** At most two decimals: a hundredth of a pixel or of a millimetre is finer than any screen or printer. */
export function short(value: number): string {
  return String(Math.round(value * 100) / 100 + 0);
}

export function pathData(points: readonly Point[], isClosed: boolean): string {
  const steps = points.map((point, index) => `${index === 0 ? 'M' : 'L'}${short(point.x)} ${short(point.y)}`);
  return steps.join('') + (isClosed ? 'Z' : '');
}

/** Clockwise on the sheet. */
export function circlePath({ x, y }: Point, radius: number): string {
  const r = short(radius);
  const across = short(2 * radius);
  return `M${short(x - radius)} ${short(y)}a${r} ${r} 0 1 1 ${across} 0a${r} ${r} 0 1 1 -${across} 0Z`;
}

export function rectPath(left: number, top: number, width: number, height: number): string {
  return `M${short(left)} ${short(top)}h${short(width)}v${short(height)}h${short(-width)}Z`;
}
