import { rectPath, short } from './pathData.ts';
import type { GroupShape, HatchShape, PathShape, Shape, SiteDrawing, Stroke, TextShape } from './shapes.ts';

/** Faces with the widths that `textWidth` reckons with: the house's own first. */
export const FONT_FAMILY = 'Inter, Helvetica, Arial, "Liberation Sans", sans-serif';

/** The drawing as one SVG image (SVG 1.1 and ARIA names). Ids start with the prefix, so that two can stand on one page. */
export function drawingToSvg(drawing: SiteDrawing, prefix: string): string {
  const { width, height, unit, title, description } = drawing;
  const write = createWriter(prefix);
  const content = drawing.shapes.map(write.shape).join('');
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: `${width}${unit}`,
      height: `${height}${unit}`,
      viewBox: `0 0 ${width} ${height}`,
      role: 'img',
      'aria-labelledby': `${prefix}-title ${prefix}-desc`,
      'font-family': FONT_FAMILY,
    },
    element('title', { id: `${prefix}-title` }, escapeText(title)),
    element('desc', { id: `${prefix}-desc` }, escapeText(description)),
    element('defs', {}, ...write.clips),
    element('rect', { width, height, fill: drawing.paper }),
    content,
  );
}

function createWriter(prefix: string) {
  const clips: string[] = [];
  const clipTo = (d: string): string => {
    const id = `${prefix}-clip-${clips.length + 1}`;
    clips.push(element('clipPath', { id }, element('path', { d })));
    return `url(#${id})`;
  };

  function shape(one: Shape): string {
    switch (one.kind) {
      case 'group':
        return writeGroup(one);
      case 'path':
        return writePath(one);
      case 'hatch':
        return writeHatch(one);
      case 'text':
        return writeText(one);
    }
  }

  function writeGroup({ name, title, station, clip, place, shapes }: GroupShape): string {
    return element(
      'g',
      {
        class: station === undefined ? name : `${name ?? 'station'} ${station.mark.replaceAll(' ', '-')}`,
        'data-station': station?.id,
        'data-number': station?.number,
        'clip-path':
          clip === undefined
            ? undefined
            : clipTo(rectPath(clip.left, clip.top, clip.right - clip.left, clip.bottom - clip.top)),
        transform: place === undefined ? undefined : transformOf(place),
      },
      title === undefined ? '' : element('title', {}, escapeText(title)),
      ...shapes.map(shape),
    );
  }

  function writeHatch({ region, ground, marks, outline }: HatchShape): string {
    return (
      element(
        'g',
        { 'clip-path': clipTo(region) },
        element('path', { d: region, fill: ground }),
        writePath({ kind: 'path', ...marks }),
      ) + (outline === null ? '' : writePath({ kind: 'path', d: region, fill: null, stroke: outline }))
    );
  }

  return { shape, clips };
}

export function transformOf({ x, y, scale, turnDegrees }: NonNullable<GroupShape['place']>): string {
  const turn = turnDegrees === 0 ? '' : ` rotate(${short(turnDegrees)})`;
  return `translate(${short(x)} ${short(y)})${turn}${scale === 1 ? '' : ` scale(${scale.toFixed(4)})`}`;
}

function writePath({ d, fill, isEvenOdd, stroke }: PathShape): string {
  return element('path', {
    d,
    fill: fill ?? 'none',
    'fill-rule': isEvenOdd === true ? 'evenodd' : undefined,
    ...strokeOf(stroke),
  });
}

function strokeOf(stroke: Stroke | null): Attributes {
  if (stroke === null) return {};
  return {
    stroke: stroke.colour,
    'stroke-width': stroke.width,
    'stroke-dasharray': stroke.dash?.map(short).join(' '),
    'stroke-linecap': stroke.isRound === true ? 'round' : undefined,
    'stroke-linejoin': stroke.isRound === true ? 'round' : undefined,
  };
}

function writeText({ x, y, size, text, anchor, fill, isBold, isItalic, halo }: TextShape): string {
  return element(
    'text',
    {
      x,
      y,
      'font-size': size,
      'font-weight': isBold === true ? 'bold' : undefined,
      'font-style': isItalic === true ? 'italic' : undefined,
      'text-anchor': anchor === 'start' ? undefined : anchor,
      fill,
      ...(halo === undefined
        ? {}
        : {
            'paint-order': 'stroke',
            stroke: halo.colour,
            'stroke-width': halo.width,
            'stroke-linejoin': 'round',
          }),
    },
    escapeText(text),
  );
}

type Attributes = Readonly<Record<string, string | number | undefined>>;

/** One element; attribute values and nothing else are escaped, so children must be elements or escaped text. */
function element(name: string, attributes: Attributes, ...children: readonly string[]): string {
  const written = Object.entries(attributes)
    .flatMap(([key, value]) =>
      value === undefined
        ? []
        : [` ${key}="${typeof value === 'number' ? short(value) : escapeText(value)}"`],
    )
    .join('');
  return children.length === 0 ? `<${name}${written}/>` : `<${name}${written}>${children.join('')}</${name}>`;
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
