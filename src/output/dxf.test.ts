import DxfParser from 'dxf-parser';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { expectGolden } from '../../test/support/golden.ts';
import { hasSecondReader, readWithSecondReader } from '../../test/support/second-reader.ts';
import { specimenDrawing } from '../../test/support/specimen-drawing.ts';
import { drawingOf } from '../drawing/assemble.ts';
import { boundsOfPath, pointOnCubic } from '../drawing/bounds.ts';
import {
  arc,
  arcAbout,
  closedPath,
  type Drawing,
  type Entity,
  line,
  lineTo,
  type PathEntity,
  text,
} from '../drawing/model.ts';
import { distanceMm, walkPath } from '../drawing/path-walk.ts';
import { mirrorDrawing } from '../drawing/transform.ts';
import { drawingToDxf } from './dxf.ts';

const source = 'plane-geometry';

function drawingWith(...entities: readonly Entity[]): Drawing {
  return drawingOf({ id: 'trial', title: 'Trial', seenFrom: 'the front', marginMm: 5, entities });
}

/** What dxf-parser gives for an entity; its own types are per kind. */
interface ParsedEntity {
  readonly type: string;
  readonly layer: string;
  readonly radius: number;
  readonly center: { readonly x: number; readonly y: number };
  readonly startAngle: number;
  readonly endAngle: number;
  readonly controlPoints: readonly { readonly x: number; readonly y: number }[];
  readonly knotValues: readonly number[];
  readonly degreeOfSplineCurve: number;
  readonly vertices: readonly { readonly x: number; readonly y: number; readonly bulge?: number }[];
  readonly text: string;
}

function parse(drawing: Drawing) {
  const file = new DxfParser().parseSync(drawingToDxf(drawing));
  if (file === null) throw new Error('dxf-parser gave nothing');
  return { header: file.header, tables: file.tables, entities: file.entities as unknown as ParsedEntity[] };
}

const outline = specimenDrawing().entities.find(
  (entity): entity is PathEntity => entity.kind === 'path' && entity.layer === 'cut',
)!;

/** Length of the outline by 2000 chords a piece. */
function outlineLengthMm(): number {
  return walkPath(outline).reduce((sum, piece) => {
    if (piece.kind !== 'cubic') return sum;
    const points = Array.from({ length: 2001 }, (_, i) => pointOnCubic(piece, i / 2000));
    return sum + points.slice(1).reduce((length, point, i) => length + distanceMm(points[i]!, point), 0);
  }, 0);
}

describe('drawingToDxf', () => {
  it('is the pinned file at 3 decimals, the same bytes each time', () => {
    const dxf = drawingToDxf(specimenDrawing());
    expect(drawingToDxf(specimenDrawing())).toBe(dxf);
    const at3Decimals = dxf
      .replaceAll('\r\n', '\n')
      .replace(/^-?\d+\.\d+$/gm, (real) => String(Number(Number(real).toFixed(3)) + 0));
    expectGolden(at3Decimals, 'specimen.dxf');
  });

  it('refuses a coordinate that is not a number', () => {
    const broken = { ...drawingWith(line('cut', { x: 0, y: 0 }, { x: 1, y: 1 })), entities: [] };
    const bad = line('cut', { x: Number.NaN, y: 0 }, { x: 1, y: 1 });
    expect(() => drawingToDxf({ ...broken, entities: [bad] })).toThrow('NaN; it must be finite');
  });
});

describe('a file read back by dxf-parser', () => {
  it('has mm as unit and every printed layer with its line type', () => {
    const { header, tables } = parse(specimenDrawing());
    expect(header['$INSUNITS']).toBe(4);
    const layers = (tables['layer'] as unknown as { layers: Record<string, unknown> }).layers;
    expect(Object.keys(layers)).toEqual(
      expect.arrayContaining(['cut', 'visible', 'hidden', 'centre', 'dimension']),
    );
  });

  it('has the hole as a circle, with y up', () => {
    const hole = parse(specimenDrawing()).entities.find(
      ({ type, layer }) => type === 'CIRCLE' && layer === 'cut',
    )!;
    expectClose(hole.radius, 49, { tol: 1e-6, source });
    expectClose(hole.center.y, -142, { tol: 1e-6, source });
  });

  it('has the outline as one spline with exactly the control points of its cubics', () => {
    const splines = parse(specimenDrawing()).entities.filter(
      ({ type, layer }) => type === 'SPLINE' && layer === 'cut',
    );
    expect(splines).toHaveLength(1);
    const [spline] = splines as [ParsedEntity];
    expect(spline.degreeOfSplineCurve).toBe(3);
    const expected = walkPath(outline).flatMap((piece) =>
      piece.kind === 'cubic' ? [piece.control1, piece.control2, piece.to] : [],
    );
    expect(spline.controlPoints).toHaveLength(expected.length + 1);
    expected.forEach((point, index) => {
      expect(distanceMm(spline.controlPoints[index + 1]!, { x: point.x, y: -point.y })).toBeLessThan(1e-6);
    });
    expect(spline.knotValues).toHaveLength(spline.controlPoints.length + 4);
    expect(spline.knotValues.slice(0, 8)).toEqual([0, 0, 0, 0, 1, 1, 1, 2]);
  });

  it('turns arcs the right way round: a quarter from the right downward on paper', () => {
    const quarter = arc('cut', { x: 0, y: 0 }, 10, 0, Math.PI / 2);
    const [read] = parse(drawingWith(quarter)).entities as [ParsedEntity];
    // y up: from 270 degrees (below) counterclockwise to 0 degrees (right)
    expectClose((read.startAngle * 180) / Math.PI, 270, { tol: 1e-6, source });
    expect(Math.abs(read.endAngle)).toBeLessThan(1e-9);
  });

  it('keeps rounded corners as bulges of a quarter turn', () => {
    const corner = closedPath('cut', { x: 0, y: 0 }, [
      lineTo({ x: 20, y: 0 }),
      arcAbout({ x: 20, y: 6 }, Math.PI / 2),
      lineTo({ x: 26, y: 30 }),
      lineTo({ x: 0, y: 30 }),
    ]);
    const [read] = parse(drawingWith(corner)).entities as [ParsedEntity];
    expect(read.type).toBe('LWPOLYLINE');
    const bulges = read.vertices.flatMap(({ bulge }) => (bulge === undefined || bulge === 0 ? [] : [bulge]));
    expect(bulges).toHaveLength(1);
    expectClose(bulges[0], -Math.tan(Math.PI / 8), { tol: 1e-6, source });
  });

  it('keeps words', () => {
    const words = parse(drawingWith(text('text', { x: 0, y: 0 }, '\u0141\u00f3d\u017a \u00d8 98', 3)))
      .entities[0]!;
    expect(words.text).toBe('\u0141\u00f3d\u017a \u00d8 98');
  });

  it('mirrors as the drawing does: the bar that was on the right is on the left', () => {
    const stroke = line('cut', { x: 30, y: 10 }, { x: 80, y: 40 });
    const [read] = parse(mirrorDrawing(drawingWith(stroke), 'inside, mirrored')).entities as [ParsedEntity];
    expect(read.vertices.map(({ x }) => x)).toEqual([-30, -80]);
  });
});

describe.runIf(hasSecondReader())('a file read back by ezdxf', () => {
  const reading = () => readWithSecondReader(drawingToDxf(specimenDrawing()));

  it('has no fault, no repair, and mm', () => {
    const { errors, fixes, units, version } = reading();
    expect({ errors, fixes, units, version }).toEqual({ errors: [], fixes: [], units: 4, version: 'AC1021' });
  });

  it('measures the outline as the model does', () => {
    const spline = reading().splines.find(({ layer }) => layer === 'cut')!;
    const { minX, maxX, minY, maxY } = boundsOfPath(outline);
    expectClose(spline.width, maxX - minX, { tol: 0.001, source });
    expectClose(spline.height, maxY - minY, { tol: 0.001, source });
    expectClose(spline.length, outlineLengthMm(), { tol: 0.01, source });
  });

  it('measures the bridge plate with its four rounded corners', () => {
    const plate = reading().polylines.find(({ bulges }) => bulges === 4)!;
    expect(plate.closed).toBe(true);
    expectClose(plate.width, 152, { tol: 0.001, source });
    expectClose(plate.height, 34, { tol: 0.001, source });
  });

  it('has line types and line widths of the one table', () => {
    const { layers } = reading();
    expect(layers['cut']).toEqual(['Continuous', 50]);
    expect(layers['hidden']).toEqual(['DASHED', 25]);
    expect(layers['ghost']).toEqual(['PHANTOM', 18]);
  });

  it('has the numbers of the dimensions as words', () => {
    const words = reading().texts.map(([, shown]) => shown);
    expect(words).toEqual(
      expect.arrayContaining(['376', '370', '480', '\u00d8 98', '96\u00b0', '18 57/64 in']),
    );
  });
});
