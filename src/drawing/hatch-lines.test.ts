import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { hatchLines } from './hatch-lines.ts';
import { arcAbout, circleLoop, closedPath, cubicTo, hatch, type LineEntity, lineTo } from './model.ts';
import { distanceMm } from './path-walk.ts';

function lengthMm(lines: readonly LineEntity[]): number {
  return lines.reduce((sum, { from, to }) => sum + distanceMm(from, to), 0);
}

describe('hatchLines', () => {
  it('covers a ring: length times pitch is the area between the circles', () => {
    const loops = [circleLoop({ x: 0, y: 142 }, 62), circleLoop({ x: 0, y: 142 }, 55)];
    const lines = hatchLines(hatch('channel', loops, 0.05));
    expectClose(lengthMm(lines) * 0.05, Math.PI * (62 ** 2 - 55 ** 2), { tol: 1, source: 'plane-geometry' });
  });

  it('ends exactly on the circles', () => {
    const centre = { x: 4, y: 7 };
    const lines = hatchLines(hatch('channel', [circleLoop(centre, 62), circleLoop(centre, 55)], 1.5));
    for (const { from, to } of lines)
      for (const end of [from, to]) {
        const radius = distanceMm(centre, end);
        expect(Math.min(Math.abs(radius - 62), Math.abs(radius - 55))).toBeLessThan(1e-9);
      }
  });

  it('covers a half ring with straight ends, turning either way', () => {
    for (const sign of [1, -1]) {
      const band = closedPath('channel', { x: 62, y: 0 }, [
        arcAbout({ x: 0, y: 0 }, sign * Math.PI),
        lineTo({ x: -55, y: 0 }),
        arcAbout({ x: 0, y: 0 }, -sign * Math.PI),
      ]);
      const area = (Math.PI / 2) * (62 ** 2 - 55 ** 2);
      expectClose(lengthMm(hatchLines(hatch('channel', [band], 0.05))) * 0.05, area, {
        tol: 1,
        source: 'plane-geometry',
      });
    }
  });

  it('covers an area bounded by a cubic: area from the line integral', () => {
    // y = 4h t(1-t)/... : control points (0,0) (20,-60) (80,-60) (100,0); area = 3/20 (...) by the Bezier area formula
    const arch = closedPath('channel', { x: 0, y: 0 }, [
      cubicTo({ x: 20, y: -60 }, { x: 80, y: -60 }, { x: 100, y: 0 }),
    ]);
    // A = integral of -y dx, -y = 180 t(1-t), dx/dt = 60 + 240 t - 240 t^2: 180 (60/6 + 240 (1/6) - 240 ... ) worked out:
    // int t(1-t) = 1/6; int t^2(1-t) = 1/12; int t^3(1-t) = 1/20 -> 180 (60/6 + 240/12 - 240/20) = 180 * 18 = 3240
    expectClose(lengthMm(hatchLines(hatch('channel', [arch], 0.05))) * 0.05, 3240, {
      tol: 1,
      source: 'plane-geometry',
    });
  });

  it('seed 31: a turned square keeps its area at any hatch angle, corners on hatch lines included', () => {
    const angle = fc.constantFrom(0, Math.PI / 4, -Math.PI / 4, Math.PI / 2, 0.3, 1.1);
    fc.assert(
      fc.property(angle, fc.integer({ min: -20, max: 20 }), (angleRad, shift) => {
        const square = closedPath('channel', { x: shift, y: 0 }, [
          lineTo({ x: shift + 10, y: 0 }),
          lineTo({ x: shift + 10, y: 10 }),
          lineTo({ x: shift, y: 10 }),
        ]);
        const lines = hatchLines(hatch('channel', [square], 0.01, { angleRad }));
        expectClose(lengthMm(lines) * 0.01, 100, { tol: 0.2, source: 'plane-geometry' });
      }),
      { seed: 31 },
    );
  });

  it('refuses a pitch of 0', () => {
    expect(() => hatchLines(hatch('channel', [], 0))).toThrow('pitch 0 mm must be above 0');
  });
});
