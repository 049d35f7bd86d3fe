import type {
  GroupShape,
  HatchShape,
  PathShape,
  Shape,
  SiteDrawing,
  Stroke,
  TextShape,
} from '@sillwatch/ring';
import type { TypeStyle, Typesetter } from './type.ts';

const POINTS_PER_UNIT = { mm: 72 / 25.4, px: 0.75 } as const;

/** Width and height of the drawing on paper, points: to its scale. */
export function sizeOfDiagram({ width, height, unit }: SiteDrawing): {
  readonly width: number;
  readonly height: number;
} {
  return { width: width * POINTS_PER_UNIT[unit], height: height * POINTS_PER_UNIT[unit] };
}

/**
 * Draws the shapes of a site with its upper left corner at `left`, `top`, `shrink` times its own size (1 = to scale).
 * Letters are text that a reader finds; their halo is drawn as outlines, so that it is not found a second time.
 */
export function drawDiagram(
  pdf: PDFKit.PDFDocument,
  type: Typesetter,
  drawing: SiteDrawing,
  at: { readonly left: number; readonly top: number; readonly shrink: number },
): void {
  const scale = POINTS_PER_UNIT[drawing.unit] * at.shrink;
  pdf.save().translate(at.left, at.top).scale(scale);
  // SVG's own limit, so that sharp corners look the same in both.
  pdf.miterLimit(4);
  for (const shape of drawing.shapes) drawShape(pdf, type, shape);
  pdf.restore();
}

function drawShape(pdf: PDFKit.PDFDocument, type: Typesetter, shape: Shape): void {
  switch (shape.kind) {
    case 'group':
      drawGroup(pdf, type, shape);
      return;
    case 'path':
      drawPath(pdf, shape);
      return;
    case 'hatch':
      drawHatch(pdf, shape);
      return;
    case 'text':
      drawText(pdf, type, shape);
      return;
  }
}

function drawGroup(pdf: PDFKit.PDFDocument, type: Typesetter, { clip, place, shapes }: GroupShape): void {
  const isBare = clip === undefined && place === undefined;
  if (!isBare) pdf.save();
  if (clip !== undefined)
    pdf.rect(clip.left, clip.top, clip.right - clip.left, clip.bottom - clip.top).clip();
  if (place !== undefined) pdf.translate(place.x, place.y).rotate(place.turnDegrees).scale(place.scale);
  for (const shape of shapes) drawShape(pdf, type, shape);
  if (!isBare) pdf.restore();
}

function drawHatch(pdf: PDFKit.PDFDocument, { region, ground, marks, outline }: HatchShape): void {
  pdf.save().path(region).clip();
  pdf.path(region).fill(ground);
  drawPath(pdf, { kind: 'path', ...marks });
  pdf.restore();
  if (outline !== null) drawPath(pdf, { kind: 'path', d: region, fill: null, stroke: outline });
}

function drawPath(pdf: PDFKit.PDFDocument, { d, fill, isEvenOdd, stroke }: PathShape): void {
  if (d === '') return;
  const rule = isEvenOdd === true ? 'even-odd' : 'non-zero';
  if (stroke === null) {
    if (fill !== null) pdf.path(d).fill(fill, rule);
    return;
  }
  setStroke(pdf, stroke);
  if (fill === null) pdf.path(d).stroke(stroke.colour);
  else pdf.path(d).fillAndStroke(fill, stroke.colour, rule);
}

function setStroke(pdf: PDFKit.PDFDocument, { width, dash, isRound }: Stroke): void {
  pdf.lineWidth(width);
  pdf.lineCap(isRound === true ? 'round' : 'butt').lineJoin(isRound === true ? 'round' : 'miter');
  if (dash === undefined) pdf.undash();
  else pdf.dash([...dash]);
}

/** Letters of a sloping label lean as much as an italic face does. */
const SLANT = Math.tan((10 * Math.PI) / 180);

function drawText(pdf: PDFKit.PDFDocument, type: Typesetter, shape: TextShape): void {
  const { size, text, fill, halo } = shape;
  const style: TypeStyle = {
    face: shape.isBold === true ? 'strong' : 'regular',
    size,
    leading: size,
    colour: fill,
  };
  const x = shape.x - type.widthOf(text, style) * { start: 0, middle: 0.5, end: 1 }[shape.anchor];
  pdf.save().transform(1, 0, shape.isItalic === true ? -SLANT : 0, 1, x, shape.y);
  if (halo !== undefined) {
    setStroke(pdf, { ...halo, isRound: true });
    for (const outline of type.outlinesOf(text, style)) pdf.path(outline).stroke(halo.colour);
  }
  type.draw(text, 0, 0, style);
  pdf.restore();
}
