import { describe, expect, it } from 'vitest';
import { expectClose } from '../../../../test/support/expect-close.ts';
import { fitView, pointAt, seenBounds, zoomView } from './view-box.ts';

const exact = { tol: 1e-9, source: 'plane-geometry: a linear map' };
const size = { width: 640, height: 800 };
const frame = { minX: -200, maxX: 200, minY: -40, maxY: 480 };
const margins = { top: 10, right: 20, bottom: 110, left: 30 };

describe('fitView', () => {
  it('shows the whole frame inside the margins', () => {
    const view = fitView(frame, size, margins);
    const inner = pointAt(view, size, margins.left, margins.top);
    const outer = pointAt(view, size, size.width - margins.right, size.height - margins.bottom);
    expect(inner.x).toBeLessThanOrEqual(frame.minX + 1e-9);
    expect(inner.y).toBeLessThanOrEqual(frame.minY + 1e-9);
    expect(outer.x).toBeGreaterThanOrEqual(frame.maxX - 1e-9);
    expect(outer.y).toBeGreaterThanOrEqual(frame.maxY - 1e-9);
  });
});

describe('zoomView', () => {
  it('keeps the point under the pointer where it is', () => {
    const fit = fitView(frame, size, margins);
    const about = pointAt(fit, size, 500, 120);
    const near = zoomView(fit, 3, about, fit);
    const after = pointAt(near, size, 500, 120);
    expectClose(after.x, about.x, exact);
    expectClose(after.y, about.y, exact);
    expectClose(near.mmPerPx * 3, fit.mmPerPx, exact);
  });

  it('goes no further out than half as far again as the whole', () => {
    const fit = fitView(frame, size, margins);
    expectClose(zoomView(fit, 0.01, fit.centre, fit).mmPerPx, fit.mmPerPx * 1.5, exact);
  });
});

describe('seenBounds', () => {
  it('has the size of the screen area in mm', () => {
    const seen = seenBounds({ centre: { x: 0, y: 0 }, mmPerPx: 0.5 }, size);
    expectClose(seen.maxX - seen.minX, 320, exact);
    expectClose(seen.maxY - seen.minY, 400, exact);
  });
});
