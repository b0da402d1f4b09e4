import fs from 'node:fs';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { coarseTop } from '../figures/structure.ts';
import { topInput } from '../figures/top-input.ts';
import { figureValue } from '../graph/sheet.ts';
import type { TopInput } from '../mechanics/top-problem.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { plateBarsRescue, raisedBars } from './plate-bars.ts';
import { sayIn } from './rescue.ts';

const pattern = readPattern(fs.readFileSync('data/patterns/small-steel-string.yaml', 'utf8'));
const drawn = coarseTop(figureValue(sheetOfPattern(pattern), topInput) as TopInput);

describe('bars of a thin top by the whole plate', () => {
  it('bring the slope of the bridge back to the drawn one, and leave a plate as drawn alone', () => {
    const bars = raisedBars({ drawn, measuredMm: 2.46 });
    expect(bars.thinDeg).toBeGreaterThan(bars.drawnDeg * 1.01);
    expectClose(bars.afterDeg / bars.drawnDeg, 1, { tol: 2e-3, source: 'arithmetic' });
    expect(bars.raiseMm).toBeGreaterThan(0.05);
    expect(bars.raiseMm).toBeLessThan(3);
    const same = raisedBars({ drawn, measuredMm: drawn.thicknessMm });
    expectClose(same.raiseMm, 0, { tol: 1e-9, source: 'arithmetic' });
    const { sentence, numbers, decision } = plateBarsRescue({ drawn, measuredMm: 2.46 }, bars, sayIn('in'));
    expect(decision).toBe('carry on');
    expect(sentence).toMatch(/^With bars as drawn .* Leave every bar \.\d{3} in higher in its middle/);
    expect(sentence).toContain('The beam rule may ask for less');
    const tall = numbers.find((n) => n.figure === 'brace.x.height');
    const x = drawn.bars.find((b) => b.id.startsWith('X-'));
    expectClose(tall?.value ?? 0, (x?.heightMm ?? 0) + bars.raiseMm, { tol: 1e-9, source: 'arithmetic' });
  });

  it('raises nothing once the bars are carved, and says what the bridge does', () => {
    const thin = { drawn, measuredMm: 2.46, barsAreCarved: true };
    const bars = raisedBars(thin);
    expect(bars.raiseMm).toBe(0);
    const words = plateBarsRescue(thin, bars);
    expect(words.sentence).toMatch(/^With its bars carved as drawn .*degrees: \d+ % more\.$/);
    expect(words.numbers.map((n) => n.figure)).toEqual(['top.thickness.final']);
  });

  it('says so when bars alone do not mend it', () => {
    const words = plateBarsRescue(
      { drawn, measuredMm: 1.2 },
      { raiseMm: 8, drawnDeg: 1, thinDeg: 4, afterDeg: 1.6 },
    );
    expect([words.action, words.decision]).toEqual(['stop', 'repair']);
    expect(words.sentence).toContain('the bars alone do not mend this plate');
  });
});
