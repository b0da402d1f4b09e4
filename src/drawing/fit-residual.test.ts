import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { startingPattern } from '../../test/support/patterns.ts';
import { fitOutline } from '../figures/fit-outline.ts';
import { outline } from '../figures/outline.ts';
import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { halfWidthAtMm } from '../geometry/half-outline.ts';
import { figureValue } from '../graph/sheet.ts';
import { fitResidualDrawing } from './fit-residual.ts';

describe('the drawing of a fit', () => {
  it('shows a place measured 0.4 mm too wide by the largest bar, twenty times as long, outward', () => {
    const shape = figureValue(sheetOfPattern(startingPattern('small-steel-string')), outline);
    if (!shape) throw new Error('the starting pattern has an outline');
    const points = Array.from({ length: 23 }, (_, i) => {
      const yMm = 20 + 20 * i;
      return { xMm: (halfWidthAtMm(shape, yMm) ?? 0) + (yMm === 340 ? 0.4 : 0), yMm };
    });
    const fit = fitOutline({ points, lengthMm: 480 });
    expect(fit.largestAtYMm).toBe(340);
    const bars = fitResidualDrawing(fit).entities.flatMap((e) =>
      e.kind === 'line' && e.layer === 'visible' ? [e] : [],
    );
    const lengths = bars.map((b) => b.to.x - b.from.x);
    const worst = lengths.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
    expectClose(worst, 20 * fit.largestMm, { tol: 1e-9, source: 'arithmetic' });
    expect(worst).toBeGreaterThan(0);
  });
});
