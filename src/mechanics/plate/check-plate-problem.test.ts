import { describe, expect, it } from 'vitest';
import { InputError } from '../../quantity/input-error.ts';
import { checkPlateProblem } from './check-plate-problem.ts';

const good = {
  plate: {
    outline: { kind: 'rectangle', alongMm: 500, acrossMm: 400 },
    thicknessMm: 2.8,
    material: {
      eAlongMPa: 11000,
      eAcrossMPa: 850,
      shearMPa: 750,
      poissonAlongAcross: 0.37,
      densityKgPerM3: 420,
    },
    holes: [{ kind: 'circle', centreMm: [90, 0], radiusMm: 50 }],
  },
  bars: [
    {
      fromMm: [-250, 100],
      toMm: [250, 100],
      widthMm: 8,
      heightMm: 12,
      eMPa: 11000,
      shearMPa: 710,
      densityKgPerM3: 420,
    },
  ],
  support: { bending: 'clamped', inPlane: 'pinned' },
  loads: [{ kind: 'force', atMm: [0, 0], newtons: 10 }],
  modes: 10,
};

/** The good problem with one member changed, given as a path. */
function changed(path: string, value: unknown): unknown {
  const copy = structuredClone(good) as unknown;
  const keys = path.split('.');
  let at = copy as Record<string, unknown>;
  for (const key of keys.slice(0, -1)) at = at[key] as Record<string, unknown>;
  at[keys.at(-1)!] = value;
  return copy;
}

function sentence(problem: unknown): string {
  try {
    checkPlateProblem(problem);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return (error as Error).message;
  }
  return expect.fail('the problem was accepted');
}

describe('plate problems', () => {
  it('a good one passes as it is', () => {
    expect(checkPlateProblem(good)).toEqual(good);
  });

  it('members left out get their plain defaults', () => {
    const { bars: _b, loads: _l, modes: _m, ...rest } = good;
    const checked = checkPlateProblem(rest);
    expect([checked.bars, checked.loads, checked.modes]).toEqual([[], [], 6]);
  });

  it.each([
    ['plate.thicknessMm', 0, 'plate.thicknessMm is 0; it must be above 0.'],
    ['plate.thicknessMm', Number.NaN, 'plate.thicknessMm is "NaN"; it must be a finite number.'],
    ['plate.thicknessMm', '2.8', 'plate.thicknessMm is "2.8"; it must be a finite number.'],
    ['plate.material.densityKgPerM3', -420, 'plate.material.densityKgPerM3 is -420; it must be above 0.'],
    ['plate.material.poissonAlongAcross', 5, 'plate.material.poissonAlongAcross is 5; with these moduli'],
    ['plate.material', undefined, 'plate.material is missing; it must be an object'],
    [
      'plate.outline.kind',
      'star',
      'plate.outline.kind is "star"; it must be one of rectangle, ellipse, polygon.',
    ],
    [
      'plate.outline',
      {
        kind: 'polygon',
        pointsMm: [
          [0, 0],
          [1, 0],
        ],
      },
      'plate.outline.pointsMm has 2 points',
    ],
    [
      'plate.outline',
      {
        kind: 'polygon',
        pointsMm: [
          [0, 0],
          [1, 1],
          [1, 0],
          [0, 1],
        ],
      },
      'crosses or touches itself',
    ],
    [
      'plate.outline',
      {
        kind: 'polygon',
        pointsMm: [
          [0, 0],
          [1, 0],
          [2, 0],
        ],
      },
      'plate.outline',
    ],
    [
      'plate.holes',
      [{ kind: 'circle', centreMm: [230, 0], radiusMm: 50 }],
      'plate.holes[0] reaches over the outline',
    ],
    [
      'plate.holes',
      [{ kind: 'circle', centreMm: [900, 0], radiusMm: 50 }],
      'plate.holes[0] reaches over the outline',
    ],
    [
      'plate.holes',
      [{ kind: 'circle', centreMm: [0, 0], radiusMm: 600 }],
      'plate.holes[0] reaches over the outline',
    ],
    [
      'plate.holes',
      [
        { kind: 'circle', centreMm: [0, 0], radiusMm: 50 },
        { kind: 'circle', centreMm: [0, 20], radiusMm: 50 },
      ],
      'plate.holes[1] meets plate.holes[0]',
    ],
    ['bars.0.toMm', [260, 100], 'bars[0].toMm [260, 100] lies 10.00 mm outside the outline'],
    ['bars.0.toMm', [90, 0], 'bars[0].toMm [90, 0] lies in plate.holes[0]'],
    ['bars.0.toMm', [-250, 100], 'bars[0] has its ends less than 0.1 mm apart'],
    [
      'bars.0.heightsMm',
      [
        [0, 3],
        [0, 4],
      ],
      'bars[0].heightsMm[1][0] is 0; positions must rise',
    ],
    ['bars.0.heightsMm', [[0, 0]], 'bars[0].heightsMm gives no height above 0'],
    ['support.bending', 'glued', 'support.bending is "glued"; it must be one of clamped, hinged, free.'],
    ['support.bending', 'free', 'cannot carry a load'],
    ['loads.0.atMm', [90, 10], 'loads[0].atMm [90, 10] lies in plate.holes[0]'],
    ['loads.0.atMm', [0, 250], 'loads[0].atMm [0, 250] lies 50.00 mm outside the outline'],
    [
      'loads.0.newtons',
      Number.POSITIVE_INFINITY,
      'loads[0].newtons is "Infinity"; it must be a finite number.',
    ],
    [
      'loads.0',
      { kind: 'couple', patchMm: { centreMm: [30, 0], alongMm: 40, acrossMm: 100 }, newtonMetres: 6 },
      'loads[0].patchMm reaches over plate.holes[0]',
    ],
    [
      'loads.0',
      { kind: 'couple', patchMm: { centreMm: [-240, 0], alongMm: 40, acrossMm: 100 }, newtonMetres: 6 },
      'loads[0].patchMm reaches over the outline',
    ],
    ['modes', 2.5, 'modes is 2.5; it must be a whole number from 0 to 200.'],
    ['meshMm', 900, 'meshMm is 900; it must be smaller'],
  ])('%s = %j is refused in one sentence that names it', (path, value, words) => {
    const message = sentence(changed(path, value));
    expect(message).toContain(words);
    expect(message).toMatch(/\.$/);
    expect(message).not.toContain('\n');
  });

  it('a bar over a hole is refused, one that ends on an ellipse is not', () => {
    expect(sentence(changed('bars.0.toMm', [250, -60]))).toContain('bars[0] passes over plate.holes[0]');
    const round = changed('plate.outline', {
      kind: 'ellipse',
      semiAlongMm: 250,
      semiAcrossMm: 200,
    }) as typeof good;
    const end = [200, 120.005] as [number, number];
    round.bars[0] = { ...round.bars[0]!, fromMm: [-100, 100], toMm: end };
    expect(checkPlateProblem(round).bars[0]!.toMm).toEqual(end);
  });

  it('a bar may not leave an inward bent outline on its way', () => {
    const bent = changed('plate.outline', {
      kind: 'polygon',
      pointsMm: [
        [-250, -200],
        [250, -200],
        [250, 200],
        [0, 60],
        [-250, 200],
      ],
    });
    expect(sentence(bent)).toContain('bars[0] leaves the outline on its way');
  });
});
