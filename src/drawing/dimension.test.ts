import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { dimensionGeometry } from './dimension.ts';
import { screenDimensionStyle } from './dimension-style.ts';
import {
  alignedDimension,
  angleDimension,
  type DimensionEntity,
  diameterDimension,
  horizontalDimension,
  type LineEntity,
  leader,
  type PathEntity,
  type PointMm,
  radiusDimension,
  type TextEntity,
  verticalDimension,
} from './model.ts';
import { distanceMm, walkPath } from './path-walk.ts';

const GEOMETRY = 'plane-geometry';

function partsOf(dimension: DimensionEntity) {
  const parts = dimensionGeometry(dimension);
  return {
    lines: parts.filter((part): part is LineEntity => part.kind === 'line'),
    arrows: parts.filter((part): part is PathEntity => part.kind === 'path' && part.fill !== undefined),
    texts: parts.filter((part): part is TextEntity => part.kind === 'text'),
  };
}

function arrowSize(arrow: PathEntity): { lengthMm: number; widthMm: number } {
  const [left, right] = walkPath(arrow).map((piece) => piece.to) as [PointMm, PointMm];
  const middle = { x: (left.x + right.x) / 2, y: (left.y + right.y) / 2 };
  return { lengthMm: distanceMm(arrow.start, middle), widthMm: distanceMm(left, right) };
}

describe('dimensionGeometry', () => {
  const width = horizontalDimension({ x: -188, y: 330 }, { x: 188, y: 330 }, 510, { second: '14 51/64 in' });

  it('draws arrows of 2.6 x 1.1 mm with their tips on the measured width', () => {
    const { arrows } = partsOf(width);
    expect(arrows.map((arrow) => arrow.start.x).sort((a, b) => a - b)).toEqual([-188, 188]);
    for (const arrow of arrows) {
      expectClose(arrowSize(arrow).lengthMm, 2.6, { tol: 1e-9, source: 'from memory' });
      expectClose(arrowSize(arrow).widthMm, 1.1, { tol: 1e-9, source: 'from memory' });
    }
  });

  it('leaves a gap at the object and puts the number above the line, the second unit below it', () => {
    const { lines, texts } = partsOf(width);
    expect(Math.min(...lines.flatMap(({ from, to }) => [from.y, to.y]))).toBe(331);
    expect(texts.map(({ text }) => text)).toEqual(['376', '14 51/64 in']);
    expect(texts[0]!.at.y).toBeLessThan(510);
    expect(texts[1]!.at.y).toBeGreaterThan(510);
  });

  it('reads upward beside a vertical dimension, on its left', () => {
    const { texts } = partsOf(verticalDimension({ x: 0, y: 0 }, { x: 0, y: 142 }, 240));
    expectClose(texts[0]!.rotationRad, -Math.PI / 2, { tol: 1e-6, source: GEOMETRY });
    expect(texts[0]!.at.x).toBeLessThan(240);
  });

  it('turns the arrows outward and moves the number out where there is no room', () => {
    const { arrows, texts } = partsOf(horizontalDimension({ x: 0, y: 0 }, { x: 3, y: 0 }, 20));
    const [first] = arrows as [PathEntity];
    expectClose(first.start.x, 0, { tol: 1e-9, source: GEOMETRY });
    expect(walkPath(first)[0]!.to.x).toBeLessThan(0);
    expect(texts[0]!.at.x).toBeGreaterThan(3);
  });

  it('measures an aligned distance along its own line', () => {
    const { texts, arrows } = partsOf(alignedDimension({ x: 0, y: 0 }, { x: 30, y: 40 }, 8));
    expect(texts[0]!.text).toBe('50');
    for (const arrow of arrows)
      expectClose(distanceMm(arrow.start, { x: 15, y: 20 }), Math.hypot(25, 8), {
        tol: 1e-9,
        source: GEOMETRY,
      });
  });

  it('marks diameter and radius with their signs', () => {
    const hole = { x: 0, y: 142 };
    expect(partsOf(diameterDimension(hole, 49, 0.9)).texts[0]!.text).toBe('\u00d8 98');
    expect(partsOf(radiusDimension(hole, 62, 2.5, { text: '55 to 62' })).texts[0]!.text).toBe('R 55 to 62');
  });

  it('puts a radius outside when asked, arrow on the edge', () => {
    const { arrows, lines } = partsOf(radiusDimension({ x: 0, y: 0 }, 62, Math.PI, { outsideMm: 15 }));
    expectClose(arrows[0]!.start.x, -62, { tol: 1e-9, source: GEOMETRY });
    expect(Math.min(lines[0]!.from.x, lines[0]!.to.x)).toBeLessThan(-77);
  });

  it('shows an angle in degrees with both tips on the arc', () => {
    const sweep = (96 * Math.PI) / 180;
    const { texts, arrows } = partsOf(angleDimension({ x: 0, y: 219 }, 30, Math.PI / 2 - sweep / 2, sweep));
    expect(texts[0]!.text).toBe('96\u00b0');
    for (const arrow of arrows)
      expectClose(distanceMm(arrow.start, { x: 0, y: 219 }), 30, { tol: 1e-9, source: GEOMETRY });
  });

  it('ends a leader at its tip', () => {
    const { arrows, texts } = partsOf(leader({ x: 10, y: 10 }, { x: 30, y: -5 }, 'upper bar'));
    expect(arrows[0]!.start).toEqual({ x: 10, y: 10 });
    expect(texts[0]!.text).toBe('upper bar');
  });

  it('keeps the old number as ghost and adds the revision', () => {
    const changed = horizontalDimension({ x: 0, y: 0 }, { x: 376, y: 0 }, 9, { was: '370', revision: '4' });
    const texts = partsOf(changed).texts.map(({ text, layer }) => `${layer} ${text}`);
    expect(texts).toEqual(['dimension 376', 'ghost 370', 'ghost 4']);
  });

  it('keeps its size on a screen at any zoom', () => {
    const near = screenDimensionStyle(0.5);
    expectClose(near.arrowLengthMm / 0.5, 9, { tol: 1e-9, source: 'from memory' });
  });

  it('hands its figure id to every part', () => {
    const parts = dimensionGeometry({ ...width, key: 'body.lower_bout' });
    expect(new Set(parts.map((part) => part.key))).toEqual(new Set(['body.lower_bout']));
  });
});
