import fs from 'node:fs';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { setBarEnds } from './edit-bars.ts';
import { readPattern } from './pattern-file.ts';

const text = fs.readFileSync('data/patterns/small-steel-string.yaml', 'utf8');
const own = { tol: 1e-6, source: 'arithmetic: the value that was written' };

describe('setBarEnds', () => {
  it('moves one bar and leaves every other line as it was', () => {
    const moved = setBarEnds(text, 'TB1', { xMm: 85.1, yMm: 314.2 }, { xMm: -141.9, yMm: 433.725 });
    const before = text.split('\n');
    const after = moved.split('\n');
    expect(after).toHaveLength(before.length);
    expect(after.filter((line, i) => line !== before[i])).toHaveLength(1);
    const bar = readPattern(moved).topBars.find((b) => b.id === 'TB1');
    if (bar?.kind !== 'straight') throw new Error('TB1 is no straight bar');
    expectClose(bar.to.yMm, 433.725, own);
    expectClose(bar.from.xMm, 85.1, own);
  });

  it('names a bar that is not there', () => {
    expect(() => setBarEnds(text, 'TB9', { xMm: 0, yMm: 0 }, { xMm: 1, yMm: 1 })).toThrow('"TB9"');
  });
});
