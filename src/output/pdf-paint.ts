import { FILL_GREY_FRAC, INK_GREY_FRAC, type InkName, LAYERS, printDashesMm } from '../drawing/line-types.ts';
import type { PlainEntity, TextEntity } from '../drawing/model.ts';
import { arcPiece, type PathPiece, pointOnCircle, walkPath } from '../drawing/path-walk.ts';
import type { PdfWriter } from './pdf-text.ts';

type PdfDoc = PDFKit.PDFDocument;
type ShapeEntity = Exclude<PlainEntity, TextEntity>;

/** A PDF has no arcs. A cubic over 30 degrees is off by 4e-7 of the radius: 0.0001 mm at 250 mm. */
const ARC_STEP_RAD = Math.PI / 6;

/**
 * Paints entities in order; the document's unit has to be the mm.
 *
 * @source plane-geometry
 */
export function paintEntities(doc: PdfDoc, entities: readonly PlainEntity[], writer: PdfWriter): void {
  doc.lineJoin('round');
  for (const entity of entities) {
    if (entity.kind === 'text') writer.write(entity, colourOf(entity.ink ?? LAYERS[entity.layer].printInk));
    else paintShape(doc, entity);
  }
}

function paintShape(doc: PdfDoc, entity: ShapeEntity): void {
  const layer = LAYERS[entity.layer];
  const fill = 'fill' in entity ? entity.fill : undefined;
  const isStroked = !('isStroked' in entity) || entity.isStroked !== false;
  if (fill === undefined && !isStroked) return;
  trace(doc, entity);
  const dashes = [...printDashesMm(entity.lineType ?? layer.lineType)];
  // the types know one dash length only; the writer takes the whole pattern
  if (dashes.length > 0) doc.dash(dashes as unknown as number, {});
  else doc.undash();
  doc.lineWidth(entity.widthMm ?? layer.printMm ?? 0);
  const ink = colourOf(entity.ink ?? layer.printInk);
  if (fill !== undefined && isStroked) doc.fillAndStroke(colourOf(fill, FILL_GREY_FRAC), ink, 'even-odd');
  else if (fill !== undefined) doc.fill(colourOf(fill, FILL_GREY_FRAC), 'even-odd');
  else doc.stroke(ink);
}

function trace(doc: PdfDoc, entity: ShapeEntity): void {
  switch (entity.kind) {
    case 'line':
      doc.moveTo(entity.from.x, entity.from.y).lineTo(entity.to.x, entity.to.y);
      return;
    case 'circle': {
      const piece = arcPiece({ ...entity, startRad: 0, sweepRad: 2 * Math.PI });
      doc.moveTo(piece.from.x, piece.from.y);
      tracePiece(doc, piece);
      doc.closePath();
      return;
    }
    case 'arc': {
      const piece = arcPiece(entity);
      doc.moveTo(piece.from.x, piece.from.y);
      tracePiece(doc, piece);
      return;
    }
    case 'path':
      doc.moveTo(entity.start.x, entity.start.y);
      for (const piece of walkPath(entity)) tracePiece(doc, piece);
      if (entity.isClosed) doc.closePath();
  }
}

function tracePiece(doc: PdfDoc, piece: PathPiece): void {
  switch (piece.kind) {
    case 'line':
      doc.lineTo(piece.to.x, piece.to.y);
      return;
    case 'cubic': {
      const { control1, control2, to } = piece;
      doc.bezierCurveTo(control1.x, control1.y, control2.x, control2.y, to.x, to.y);
      return;
    }
    case 'arc':
      traceArc(doc, piece);
  }
}

function traceArc(doc: PdfDoc, piece: PathPiece & { kind: 'arc' }): void {
  const { centre, radiusMm, startRad, sweepRad } = piece;
  const count = Math.max(1, Math.ceil(Math.abs(sweepRad) / ARC_STEP_RAD - 1e-9));
  const step = sweepRad / count;
  // handle length of the cubic that touches an arc of `step`: 4/3 tan(step / 4) radii
  const handleMm = (4 / 3) * Math.tan(step / 4) * radiusMm;
  for (let index = 0; index < count; index++) {
    const begin = startRad + index * step;
    const end = begin + step;
    const from = pointOnCircle(centre, radiusMm, begin);
    const to = pointOnCircle(centre, radiusMm, end);
    const control1 = pointOnCircle(from, handleMm, begin + Math.PI / 2);
    const control2 = pointOnCircle(to, -handleMm, end + Math.PI / 2);
    doc.bezierCurveTo(control1.x, control1.y, control2.x, control2.y, to.x, to.y);
  }
}

function colourOf(ink: InkName, greys = INK_GREY_FRAC): string {
  const level = Math.round(greys[ink] * 255)
    .toString(16)
    .padStart(2, '0');
  return `#${level}${level}${level}`;
}
