import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { STARTING, startingPattern } from '../../test/support/patterns.ts';
import { figureValue, numberOf } from '../graph/sheet.ts';
import { sheetOfPattern } from './pattern-sheet.ts';
import { equalGapCentres } from './spacing.ts';
import { stringSolutions, stringTension } from './string-set.ts';

const sheets = STARTING.map((name) => sheetOfPattern(startingPattern(name)));
const [steel, nylon, uke] = sheets as [(typeof sheets)[0], (typeof sheets)[0], (typeof sheets)[0]];
const twice = 'worked out twice from the formulas, apart from this code';

describe('fret places', () => {
  it.each([
    ['steel', steel, [35.247, 157.532, 208.86, 314, 348.258, 418.43]],
    ['nylon', nylon, [36.482, 163.05, 216.177, 325, 360.458, 433.089]],
    ['uke', uke, [24.134, 107.864, 143.009, 215, 238.457, 286.505]],
  ] as const)('%s at 1, 5, 7, 12, 14, 19', (_name, sheet, wanted) => {
    [1, 5, 7, 12, 14, 19].forEach((n, i) => {
      expectClose(numberOf(sheet, `fret.place.${n}`), wanted[i] as number, { tol: 0.0006, source: twice });
    });
  });

  it('stand in equal temperament: each fret shortens the string by the same ratio', () => {
    for (const sheet of sheets)
      for (let n = 2; n <= 19; n++) {
        const ratio =
          (numberOf(sheet, `fret.to_saddle.${n - 1}`) as number) /
          (numberOf(sheet, `fret.to_saddle.${n}`) as number);
        expectClose(1200 * Math.log2(ratio), 100, { tol: 1e-9, source: 'equal-temperament' });
      }
  });

  it('gaps follow the rule (scale - place before) x 0.0561257 and add up to the place', () => {
    let sum = 0;
    for (let n = 1; n <= 20; n++) {
      const gap = numberOf(steel, `fret.gap.${n}`) as number;
      expectClose(gap, (628 - sum) * 0.0561257, { tol: 1e-4, source: 'equal-temperament' });
      sum += gap;
    }
    expectClose(sum, numberOf(steel, 'fret.place.20') as number, { tol: 1e-9, source: 'arithmetic' });
  });

  it.each([
    [1, 2.92],
    [5, 3.68],
    [12, 5.51],
    [20, 8.75],
  ])('one mm of slot error at fret %d costs %d cents at 628', (n, cents) => {
    expectClose(numberOf(steel, `fret.slot_sensitivity.${n}`), cents, { tol: 0.006, source: twice });
  });

  it('a slot error of 0.1 mm agrees with the pitch of the length itself', () => {
    const left = numberOf(steel, 'fret.to_saddle.7') as number;
    expectClose(
      0.1 * (numberOf(steel, 'fret.slot_sensitivity.7') as number),
      1200 * Math.log2(left / (left - 0.1)),
      {
        tol: 1e-4,
        source: 'equal-temperament',
      },
    );
  });

  it('dots lie midway, none beyond the last fret', () => {
    expectClose(numberOf(steel, 'fret.mark.3'), (68.516 + 99.917) / 2, {
      tol: 0.001,
      source: 'plane-geometry',
    });
    expect(numberOf(steel, 'fret.mark.19')).toBeUndefined();
  });
});

describe('compensation', () => {
  /** String, T, dS at 12, least squares, rms, two-end dS, dN, rms. */
  const tables = [
    [
      steel,
      [
        [98.6, 1.99, 2.04, 0.37, 1.74, 0.25, 0.08],
        [98.4, 3.71, 3.8, 0.66, 3.27, 0.44, 0.14],
        [126.8, 1.48, 1.52, 0.25, 1.32, 0.17, 0.05],
        [125.4, 1.86, 1.9, 0.3, 1.65, 0.2, 0.06],
        [121, 2.73, 2.78, 0.43, 2.44, 0.29, 0.09],
        [108.3, 4.6, 4.69, 0.71, 4.12, 0.48, 0.15],
      ],
    ],
    [
      nylon,
      [
        [77.1, 1.24, 1.25, 0.1, 1.17, 0.07, 0.02],
        [57.8, 2.13, 2.15, 0.17, 2.01, 0.12, 0.04],
        [56.5, 3.54, 3.57, 0.27, 3.35, 0.18, 0.07],
        [71.2, 0.97, 0.98, 0.11, 0.89, 0.08, 0.02],
        [70.1, 1.39, 1.41, 0.14, 1.29, 0.09, 0.03],
        [69.1, 2.07, 2.09, 0.18, 1.94, 0.12, 0.03],
      ],
    ],
    [
      uke,
      [
        [48.9, 1.4, 1.42, 0.21, 1.3, 0.1, 0.05],
        [44.1, 2.52, 2.56, 0.37, 2.35, 0.17, 0.09],
        [44.2, 4.15, 4.2, 0.58, 3.88, 0.26, 0.14],
        [47.9, 1.86, 1.88, 0.27, 1.73, 0.13, 0.06],
      ],
    ],
  ] as const;
  const ids = [
    ['string.tension', 0.15],
    ['string.setback.match_12', 0.011],
    ['string.setback.least_squares', 0.011],
    ['string.rms.saddle_only', 0.006],
    ['string.setback.two_end', 0.011],
    ['string.nut_shift', 0.006],
    ['string.rms.two_end', 0.006],
  ] as const;

  it.each(tables.map(([sheet, rows], k) => [STARTING[k], sheet, rows] as const))(
    '%s, every string',
    (_n, sheet, rows) => {
      rows.forEach((row, i) => {
        ids.forEach(([id, tol], column) => {
          expectClose(numberOf(sheet, `${id}.${i + 1}`), row[column] as number, { tol, source: twice });
        });
      });
    },
  );

  it('tension is a little above the ideal string, as stiffness raises the pitch', () => {
    const ideal = [98.4, 97.7, 126.5, 124.9, 120.3, 107.4];
    ideal.forEach((wanted, i) => {
      expectClose(numberOf(steel, `string.tension_ideal.${i + 1}`), wanted, { tol: 0.06, source: twice });
    });
    for (const sheet of sheets)
      for (const s of figureValue(sheet, stringSolutions) ?? []) {
        const more = s.tensionN / s.idealTensionN - 1;
        expect(more).toBeGreaterThan(0.0009);
        expect(more).toBeLessThan(0.012);
      }
  });

  it.each([
    ['steel', steel, 2.74, 1.976, 3.504, -1.62, 1.44, 0.66],
    ['nylon', nylon, 1.89, 1.936, 1.844, 0.09, 1.64, 1.97],
    ['uke', uke, 2.48, 2.031, 2.929, -1.23, 1.52, 2.89],
  ] as const)('straight saddle line, %s', (_n, sheet, centre, treble, bass, angle, residual, cents) => {
    expectClose(numberOf(sheet, 'scale.setback.centre'), centre, { tol: 0.006, source: twice });
    expectClose(numberOf(sheet, 'scale.setback.treble'), treble, { tol: 0.011, source: twice });
    expectClose(numberOf(sheet, 'scale.setback.bass'), bass, { tol: 0.011, source: twice });
    expectClose(numberOf(sheet, 'scale.saddle_angle'), angle, { tol: 0.015, source: twice });
    expectClose(numberOf(sheet, 'scale.saddle_residual.most'), residual, { tol: 0.006, source: twice });
    expectClose(numberOf(sheet, 'scale.saddle_left_over'), cents, { tol: 0.015, source: twice });
  });

  it('a left-handed one has the same setbacks of its strings and the slope the other way', () => {
    const left = sheetOfPattern({ ...startingPattern('small-steel-string'), handed: 'left' });
    for (const id of ['scale.setback.centre', 'scale.setback.treble', 'scale.setback.bass', 'saddle.y'])
      expectClose(numberOf(left, id), numberOf(steel, id) as number, { tol: 1e-9, source: 'mirror image' });
    for (const id of ['scale.saddle_slope', 'string.x.nut.1', 'string.x.saddle.6', 'neck.tuner.x.2'])
      expectClose(numberOf(left, id), -(numberOf(steel, id) as number), {
        tol: 1e-9,
        source: 'mirror image',
      });
    expectClose(
      numberOf(left, 'bridge.saddle_slot.left_y'),
      numberOf(steel, 'bridge.saddle_slot.right_y') as number,
      {
        tol: 1e-9,
        source: 'mirror image',
      },
    );
  });

  it('a moved nut shortens the board and leaves the slots apart as they were', () => {
    const shift = numberOf(steel, 'scale.nut_shift') as number;
    expectClose(shift, (0.25 + 0.44 + 0.17 + 0.2 + 0.29 + 0.48) / 6, { tol: 0.004, source: twice });
    expectClose(numberOf(steel, 'fret.place_from_cut_end.12'), 314 - shift, {
      tol: 1e-9,
      source: 'arithmetic',
    });
  });

  it('+3 cents at fret 12 want the rest 1.09 mm back at 628', () => {
    expectClose(3 * (numberOf(steel, 'setup.saddle_mm_per_cent') as number), 1.09, {
      tol: 0.005,
      source: twice,
    });
    expectClose(numberOf(steel, 'setup.cents_per_saddle_mm'), 2.76, { tol: 0.005, source: twice });
  });

  it('says so when no saddle place can bring a string in tune', () => {
    const pattern = startingPattern('small-steel-string');
    const wild = sheetOfPattern({
      ...pattern,
      strings: pattern.strings.map((s, i) => (i === 2 ? { ...s, axialStiffnessN: 1e8 } : s)),
    });
    expect(figureValue(wild, stringTension)).toBeUndefined();
    expect(wild.cells[wild.catalogue.indexById.get('string.tension') as number]).toMatchObject({
      code: 'string-without-setback',
      figure: 'string.solution',
      got: 'G3',
    });
  });
});

describe('string spacing', () => {
  it.each([
    ['steel', steel, 6.66, 10.06, 3.5, 4.75],
    ['nylon', nylon, 7.73, 10.73, 4.5, 5.75],
    ['uke', uke, 8.67, 13.16, 3.75, 4.88],
  ] as const)('%s', (_n, sheet, nut, saddle, marginNut, margin12) => {
    expectClose(numberOf(sheet, 'string.gap.nut'), nut, { tol: 0.006, source: twice });
    expectClose(numberOf(sheet, 'string.gap.saddle'), saddle, { tol: 0.006, source: twice });
    expectClose(numberOf(sheet, 'string.margin.nut'), marginNut, { tol: 0.006, source: twice });
    expectClose(numberOf(sheet, 'string.margin.fret_12'), margin12, { tol: 0.006, source: twice });
  });

  it.each([
    ['steel', steel, [18.5, 11.49, 4.33, -3.04, -10.64, -18.5], [27, 16.59, 6.03, -4.74, -15.74, -27]],
    ['nylon', nylon, [21.5, 13.01, 4.36, -4.24, -12.78, -21.5], [29, 17.51, 5.86, -5.74, -17.28, -29]],
    ['uke', uke, [14.25, 4.86, -4.72, -14.25], [21, 7.11, -6.97, -21]],
  ] as const)('places at nut and saddle, %s', (_n, sheet, nut, saddle) => {
    nut.forEach((x, i) => {
      expectClose(numberOf(sheet, `string.x.nut.${i + 1}`), x, { tol: 0.006, source: twice });
      expectClose(numberOf(sheet, `string.x.saddle.${i + 1}`), saddle[i] as number, {
        tol: 0.006,
        source: twice,
      });
    });
  });

  it('equal centres divide the spread, and lie within the spread of the equal gaps', () => {
    expectClose(numberOf(steel, 'string.pitch.equal.nut'), 7.4, { tol: 1e-9, source: '37 / 5' });
    expectClose(numberOf(uke, 'string.pitch.equal.saddle'), 14, { tol: 1e-9, source: '42 / 3' });
    const pitches = [1, 2, 3, 4, 5].map((i) => numberOf(steel, `string.pitch.nut.${i}`) as number);
    expectClose(
      pitches.reduce((a, b) => a + b, 0),
      37,
      { tol: 1e-9, source: 'arithmetic' },
    );
    expectClose(numberOf(steel, 'nut.slot_width.least.1'), 0.355, { tol: 1e-9, source: '0.305 + 0.05' });
    expectClose(numberOf(steel, 'nut.slot_width.most.1'), 0.405, { tol: 1e-9, source: '0.305 + 0.10' });
  });

  it('two strings lie at the ends, one in the middle', () => {
    expect(equalGapCentres([1, 2], 30)).toEqual([15, -15]);
    expect(equalGapCentres([1], 30)).toEqual([0]);
  });
});

describe('what a drag recomputes', () => {
  it('a change of the outline leaves the strings alone', () => {
    const pattern = startingPattern('small-steel-string');
    const wider = sheetOfPattern(
      { ...pattern, numbers: new Map(pattern.numbers).set('body.waist.width', 240) },
      { previous: steel },
    );
    expect(figureValue(wider, stringSolutions)).toBe(figureValue(steel, stringSolutions));
  });
});
