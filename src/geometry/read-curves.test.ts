import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { joinRuns, largestClosed } from './curve-file.ts';
import { halfWidthsOf } from './half-widths.ts';
import type { Point } from './point.ts';
import { polygonAreaMm2 } from './polygon.ts';
import { readDxfCurves } from './read-dxf.ts';
import { pathRuns, readSvgCurves } from './read-svg-path.ts';

const source = 'plane-geometry';
const area = (points: readonly Point[] | undefined): number => Math.abs(polygonAreaMm2(points ?? []));
const svg = (body: string, size = 'width="200mm" height="300mm" viewBox="0 0 200 300"'): string =>
  `<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" ${size}>${body}</svg>`;
const svgArea = (body: string, size?: string): number =>
  area(largestClosed(readSvgCurves(svg(body, size)), 1)[0]);

describe('readSvgCurves', () => {
  it('reads lines, relative steps and closings', () => {
    expectClose(svgArea('<path d="M10 10 h40v30H10z"/>'), 1200, { tol: 1e-9, source });
    expectClose(svgArea('<path d="m10,10l40,0 0,30-40 0Z"/>'), 1200, { tol: 1e-9, source });
    expectClose(svgArea('<polygon points="0,0 20,0 20,10"/>'), 100, { tol: 1e-9, source });
  });
  it('reads arcs, also with flags run together, and circles', () => {
    const circle = Math.PI * 2500;
    expectClose(svgArea('<path d="M50 100A50 50 0 0 0 150 100A50 50 0 0 0 50 100Z"/>'), circle, {
      tol: 1,
      source,
    });
    expectClose(svgArea('<path d="M50 100a50 50 0 01100 0a50 50 0 01-100 0z"/>'), circle, { tol: 1, source });
    expectClose(svgArea('<circle cx="100" cy="100" r="50"/>'), circle, { tol: 1, source });
    expectClose(svgArea('<path d="M0 0A10 20 30 1 1 10 5Z"/>') > 0 ? 1 : 0, 1, { tol: 0.1, source });
  });
  it('draws a half ellipse by arc as its area says', () => {
    expectClose(svgArea('<path d="M0 50A30 50 0 0 1 60 50Z"/>'), (Math.PI * 30 * 50) / 2, {
      tol: 0.3,
      source,
    });
  });
  it('reads cubic and quadratic pieces with their smooth follow-ons', () => {
    // parabola through three points: two thirds of the box
    expectClose(svgArea('<path d="M0 0Q50 100 100 0Z"/>'), (2 / 3) * 100 * 50, { tol: 0.5, source });
    expectClose(svgArea('<path d="M0 0C0 40 50 40 50 0S100 -40 100 0V100H0Z"/>'), 100 * 100, {
      tol: 0.5,
      source,
    });
    const [run] = pathRuns('M0 0Q10 10 20 0T40 0');
    expectClose(Math.min(...(run?.points ?? []).map((p) => p.yMm)), -5, { tol: 0.01, source });
  });
  it('takes size, units, view box and transforms into account', () => {
    expectClose(
      svgArea('<rect width="100" height="100"/>', 'width="10in" height="10in" viewBox="0 0 100 100"'),
      254 ** 2,
      {
        tol: 1e-6,
        source: 'inch-1959',
      },
    );
    expectClose(svgArea('<rect width="96" height="96"/>', ''), 25.4 ** 2, { tol: 1e-9, source: 'inch-1959' });
    expectClose(
      svgArea(
        '<g transform="translate(5 5) rotate(30)"><path transform="scale(2,3)" d="M0 0h10v10h-10z"/></g>',
      ),
      600,
      { tol: 1e-9, source },
    );
  });
  it('does not see what is only defined', () => {
    expect(
      svgArea('<defs><rect width="100" height="100"/></defs><rect width="10" height="10"/>'),
    ).toBeCloseTo(100);
  });
});

const dxf = (entities: string, units = 4): string =>
  `0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n${units}\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n${entities}0\nENDSEC\n0\nEOF\n`;
const entity = (type: string, codes: readonly (readonly [number, string | number])[]): string =>
  `0\n${type}\n${codes.map(([c, v]) => `${c}\n${v}\n`).join('')}`;
const dxfArea = (entities: string): number => {
  const read = readDxfCurves(dxf(entities));
  return area(largestClosed(joinRuns(read?.runs ?? [], 0.1), 1)[0]);
};

describe('readDxfCurves', () => {
  it('joins lines and arcs that meet, whatever way they run', () => {
    const line = (x1: number, y1: number, x2: number, y2: number) =>
      entity('LINE', [
        [10, x1],
        [20, y1],
        [11, x2],
        [21, y2],
      ]);
    const shape =
      line(0, 0, 100, 0) +
      line(0, 60, 0, 0) +
      line(100, 60, 0, 60) +
      entity('ARC', [
        [10, 100],
        [20, 30],
        [40, 30],
        [50, 270],
        [51, 90],
      ]);
    expectClose(dxfArea(shape), 6000 + (Math.PI * 900) / 2, { tol: 0.3, source });
  });
  it('reads polylines with bulges, old and new', () => {
    const bulged = entity('LWPOLYLINE', [
      [90, 2],
      [70, 1],
      [10, 0],
      [20, 0],
      [42, 1],
      [10, 100],
      [20, 0],
      [42, 1],
    ]);
    expectClose(dxfArea(bulged), Math.PI * 2500, { tol: 1, source });
    const vertex = (x: number, y: number) =>
      entity('VERTEX', [
        [10, x],
        [20, y],
      ]);
    expectClose(
      dxfArea(
        entity('POLYLINE', [[70, 1]]) +
          vertex(0, 0) +
          vertex(50, 0) +
          vertex(50, 20) +
          vertex(0, 20) +
          entity('SEQEND', []),
      ),
      1000,
      { tol: 1e-9, source },
    );
  });
  it('reads circles, ellipses and splines', () => {
    expectClose(
      dxfArea(
        entity('CIRCLE', [
          [10, 3],
          [20, 4],
          [40, 50],
        ]),
      ),
      Math.PI * 2500,
      { tol: 1, source },
    );
    expectClose(
      dxfArea(
        entity('ELLIPSE', [
          [10, 0],
          [20, 0],
          [11, 0],
          [21, 100],
          [40, 0.5],
          [41, 0],
          [42, 2 * Math.PI],
        ]),
      ),
      Math.PI * 100 * 50,
      { tol: 2, source },
    );
    // a cubic Bezier piece as a spline with full knots, closed by a line: area 3/20 of ... by Green's theorem
    const spline = entity('SPLINE', [
      [71, 3],
      ...[0, 0, 0, 0, 1, 1, 1, 1].map((k) => [40, k] as const),
      ...[
        [0, 0],
        [0, 40],
        [100, 40],
        [100, 0],
      ].flatMap(([x, y]) => [[10, x!] as const, [20, y!] as const]),
    ]);
    // x = 300 t^2 - 200 t^3, y = 120 t (1 - t): integral of y dx over 0..1 = 120 * 600 * integral t^2 (1-t)^2 = 2400
    expectClose(
      dxfArea(
        spline +
          entity('LINE', [
            [10, 100],
            [20, 0],
            [11, 0],
            [21, 0],
          ]),
      ),
      2400,
      { tol: 1, source },
    );
  });
  it('says the unit of the drawing and refuses what is no DXF', () => {
    expect(readDxfCurves(dxf('', 1))?.mmPerUnit).toBe(25.4);
    expect(readDxfCurves(dxf('', 0))?.mmPerUnit).toBeUndefined();
    expect(readDxfCurves('<svg/>')).toBeUndefined();
  });
});

describe('halfWidthsOf', () => {
  // an egg: x = 100 sin a (1 - 0.2 cos a), y from 0 to 400, wider toward the tail
  const egg = Array.from({ length: 720 }, (_, i) => {
    const a = (i / 720) * 2 * Math.PI;
    return { xMm: 100 * Math.sin(a) * (1 - 0.2 * Math.cos(a)), yMm: 200 - 200 * Math.cos(a) };
  });
  const halfAt = (points: readonly Point[], yMm: number): number =>
    points.reduce((a, b) => (Math.abs(b.yMm - yMm) < Math.abs(a.yMm - yMm) ? b : a)).xMm;
  it('finds the same half widths however the curve lies', () => {
    const turn = (rad: number) => (p: Point) => ({
      xMm: 37 + Math.cos(rad) * p.xMm - Math.sin(rad) * p.yMm,
      yMm: -12 + Math.sin(rad) * p.xMm + Math.cos(rad) * p.yMm,
    });
    for (const rad of [0, Math.PI / 2, Math.PI, -Math.PI / 2, 0.03, Math.PI - 0.05]) {
      const half = halfWidthsOf(egg.map(turn(rad)));
      expectClose(half?.lengthMm, 400, { tol: 0.1, source });
      expectClose(halfAt(half?.points ?? [], 200), 100, { tol: 0.1, source });
      // y = 300: cos a = -1/2
      expectClose(halfAt(half?.points ?? [], 300), 100 * Math.sin((2 * Math.PI) / 3) * 1.1, {
        tol: 0.1,
        source,
      });
      expect(half?.asymmetryMm).toBeLessThan(0.2);
    }
  });
  it('measures how far a cutaway side leaves the other', () => {
    const cut = egg.map((p) => (p.xMm > 40 && p.yMm < 120 ? { ...p, xMm: 40 } : p));
    expect(halfWidthsOf(cut)?.asymmetryMm).toBeGreaterThan(8);
  });
});
