import { describe, expect, it } from 'vitest';
import { planAroundWords } from './tile-shift.ts';
import { planTiles } from './tiles.ts';

const windowMm = { widthMm: 270, heightMm: 380 };
const frame = { minX: -215, maxX: 215, minY: -40, maxY: 300 };

describe('planAroundWords', () => {
  it('moves the seam off the centre line when there is paper to spare', () => {
    const centred = planTiles(frame, windowMm).tiles[1]!.window.minX;
    expect(Math.abs(centred + 5)).toBeLessThan(1e-9);
    const moved = planAroundWords(frame, windowMm, []).tiles[1]!.window;
    expect(moved.minX > 8 || moved.minX + 10 < -8).toBe(true);
  });

  it('still covers the whole frame', () => {
    const { tiles } = planAroundWords(frame, windowMm, []);
    expect(tiles[0]!.window.minX).toBeLessThanOrEqual(frame.minX + 1e-9);
    expect(tiles.at(-1)!.window.maxX).toBeGreaterThanOrEqual(frame.maxX - 1e-9);
  });

  it('keeps the seam out of words', () => {
    const free = planAroundWords(frame, windowMm, []).tiles[1]!.window.minX;
    const words = { minX: free - 3, maxX: free + 13, minY: 10, maxY: 14 };
    const { tiles } = planAroundWords(frame, windowMm, [words]);
    const seam = tiles[1]!.window.minX;
    expect(seam >= words.maxX || seam + 10 <= words.minX).toBe(true);
  });

  it('leaves a drawing that fits one sheet in its middle', () => {
    const small = { minX: -50, maxX: 50, minY: 0, maxY: 80 };
    expect(planAroundWords(small, windowMm, [])).toEqual(planTiles(small, windowMm));
  });
});
