import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { pageStretch } from './printer-correction.ts';
import { crossPlaces, tileMarks } from './tile-marks.ts';
import { planTiles } from './tiles.ts';

const windowMm = { widthMm: 190, heightMm: 240 };

describe('planTiles', () => {
  it('uses one sheet for what fits one sheet, in its middle', () => {
    const plan = planTiles({ minX: 0, minY: 0, maxX: 190, maxY: 100 }, windowMm);
    expect(plan.tiles.map(({ name }) => name)).toEqual(['A1']);
    expect(plan.tiles[0]!.window).toEqual({ minX: 0, minY: -70, maxX: 190, maxY: 170 });
  });

  it('names rows by letter and columns by number', () => {
    const plan = planTiles({ minX: -200, minY: -40, maxX: 200, maxY: 520 }, windowMm);
    expect(plan.tiles.map(({ name }) => name).join(' ')).toBe('A1 A2 A3 B1 B2 B3 C1 C2 C3');
  });

  it('seed 41: windows cover the frame, neighbours share just the overlap, and one sheet less would not do', () => {
    const side = fc.double({ min: 1, max: 3000, noNaN: true });
    fc.assert(
      fc.property(side, side, (widthMm, heightMm) => {
        const frame = { minX: -7, minY: 3, maxX: widthMm - 7, maxY: heightMm + 3 };
        const { tiles, columnCount } = planTiles(frame, windowMm);
        const first = tiles[0]!.window;
        const last = tiles.at(-1)!.window;
        expect(first.minX).toBeLessThanOrEqual(frame.minX + 1e-6);
        expect(last.maxY).toBeGreaterThanOrEqual(frame.maxY - 1e-6);
        const row = tiles.slice(0, columnCount);
        row.slice(1).forEach((tile, index) => {
          expectClose(row[index]!.window.maxX - tile.window.minX, 10, { tol: 1e-6, source: 'arithmetic' });
        });
        if (columnCount > 1) expect((columnCount - 1) * 180 + 10).toBeLessThan(widthMm + 1e-6);
      }),
      { seed: 41 },
    );
  });

  it('refuses a window that is not larger than the overlap', () => {
    const frame = { minX: 0, minY: 0, maxX: 1, maxY: 1 };
    expect(() => planTiles(frame, { widthMm: 10, heightMm: 90 })).toThrow('window 10 x 90 mm');
  });
});

describe('tileMarks', () => {
  const plan = planTiles({ minX: 0, minY: 0, maxX: 360, maxY: 460 }, windowMm);

  it('prints every cross of a seam at the same place on both sheets', () => {
    const crosses = (name: string) =>
      tileMarks(plan.tiles.find((tile) => tile.name === name)!, plan)
        .flatMap((entity) => (entity.kind === 'circle' ? [`${entity.centre.x} ${entity.centre.y}`] : []))
        .sort();
    const shared = crosses('A1').filter((place) => crosses('A2').includes(place));
    expect(shared).toHaveLength(2);
    expect(crosses('A1').filter((place) => crosses('B1').includes(place))).toHaveLength(2);
    expect(crosses('A1').filter((place) => crosses('B2').includes(place))).toHaveLength(0);
  });

  it('cuts each sheet on the left and above only, and says what to lay it on', () => {
    const words = (name: string) =>
      tileMarks(plan.tiles.find((tile) => tile.name === name)!, plan)
        .flatMap((entity) => (entity.kind === 'text' ? [entity.text] : []))
        .sort();
    expect(words('A1')).toEqual(['A2 lies here', 'B1 lies here']);
    expect(words('B2')).toEqual(['Cut here, lay on A2', 'Cut here, lay on B1']);
  });

  it('has its crosses at the quarters of a seam', () => {
    expect(crossPlaces(100, 200)).toEqual([125, 175]);
  });
});

describe('pageStretch', () => {
  it('turns a printer that makes 99.2 of 100 into a stretch of 100 / 99.2', () => {
    const { xRatio, yRatio } = pageStretch({ x: 99.2, y: 100.4 });
    expectClose(xRatio * 99.2, 100, { tol: 1e-9, source: 'arithmetic' });
    expectClose(yRatio * 100.4, 100, { tol: 1e-9, source: 'arithmetic' });
  });

  it('refuses what cannot be the 100 mm line, saying what to do', () => {
    expect(() => pageStretch({ x: 3.937, y: 100 })).toThrow(
      /given as 3.937 mm, which is not between 90 and 110 mm: print at/,
    );
    expect(() => pageStretch({ x: 100, y: Number.NaN })).toThrow('down the paper was given as NaN mm');
  });
});
