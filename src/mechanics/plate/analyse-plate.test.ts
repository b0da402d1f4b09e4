import { describe, expect, it } from 'vitest';
import { expectClose } from '../../../test/support/expect-close.ts';
import { InputError } from '../../quantity/input-error.ts';
import { analysePlate } from './analyse-plate.ts';
import type { PlateMaterial, PlateProblem, PlateShape } from './plate-problem.ts';

const isotropic: PlateMaterial = {
  eAlongMPa: 10000,
  eAcrossMPa: 10000,
  shearMPa: 10000 / 2.6,
  poissonAlongAcross: 0.3,
  densityKgPerM3: 400,
};
const thicknessMm = 3;
/** E h^3 / (12 (1 - nu^2)), N mm */
const rigidity = (10000 * thicknessMm ** 3) / (12 * (1 - 0.09));
const massPerArea = 400e-12 * thicknessMm;

function plate(
  outline: PlateShape,
  bending: 'clamped' | 'hinged' | 'free',
  more: Partial<PlateProblem> = {},
): PlateProblem {
  return {
    plate: { outline, thicknessMm, material: isotropic, holes: [] },
    bars: [],
    support: { bending, inPlane: 'pinned' },
    loads: [],
    modes: 4,
    ...more,
  };
}

/** omega a^2 sqrt(rho h / D) */
function parameters(problem: PlateProblem, sizeMm: number): number[] {
  return analysePlate(problem).frequenciesHz.map(
    (f) => 2 * Math.PI * f * sizeMm ** 2 * Math.sqrt(massPerArea / rigidity),
  );
}

const square: PlateShape = { kind: 'rectangle', alongMm: 400, acrossMm: 400 };
const circle: PlateShape = { kind: 'ellipse', semiAlongMm: 200, semiAcrossMm: 200 };
const near = (actual: number[], expected: number[], frac: number, source: string) => {
  expected.forEach((value, k) => {
    expectClose(actual[k], value, { tol: value * frac, source });
  });
};

describe('closed forms', () => {
  it('square plates', () => {
    near(
      parameters(plate(square, 'hinged'), 400),
      [2, 5, 5, 8].map((n) => n * Math.PI ** 2),
      1e-3,
      'leissa-plates',
    );
    near(parameters(plate(square, 'clamped'), 400), [35.985, 73.394, 73.394, 108.217], 1e-3, 'leissa-plates');
    near(parameters(plate(square, 'free'), 400), [13.4682, 19.5961, 24.2702, 34.8009], 1e-3, 'leissa-plates');
  });

  it('circles', () => {
    near(
      parameters(plate(circle, 'clamped'), 200),
      [10.2158, 21.2604, 21.2604, 34.877],
      1e-3,
      'leissa-plates',
    );
    near(parameters(plate(circle, 'free'), 200), [5.3583, 5.3583, 9.0031, 12.439], 1e-3, 'leissa-plates');
  });

  it('a hinged circle keeps its slopes free: 4.9351, not the clamped 10.2158', () => {
    near(parameters(plate(circle, 'hinged', { modes: 6 }), 200), [4.9351, 13.8982], 1e-3, 'leissa-plates');
    // the same circle drawn as a polygon with 60 points, and a finer mesh than its sides
    const pointsMm = Array.from({ length: 60 }, (_, i): [number, number] => [
      200 * Math.cos((Math.PI * i) / 30),
      200 * Math.sin((Math.PI * i) / 30),
    ]);
    const drawn = plate({ kind: 'polygon', pointsMm }, 'hinged', { meshMm: 9 });
    near(parameters(drawn, 200), [4.9351], 1e-3, 'leissa-plates');
  });

  it('a hinged hexagon, whose blunt corners need very short edges', () => {
    // simply supported polygons of straight sides: square of the membrane's eigenvalue, 7.15534 for a side of 1
    const pointsMm = Array.from({ length: 6 }, (_, i): [number, number] => [
      200 * Math.cos((Math.PI * i) / 3),
      200 * Math.sin((Math.PI * i) / 3),
    ]);
    near(parameters(plate({ kind: 'polygon', pointsMm }, 'hinged'), 200), [7.15534], 1e-3, 'leissa-plates');
  });

  it('an annulus, outer edge clamped, inner free, b/a 0.4', () => {
    const base = plate(circle, 'clamped', { modes: 5 });
    const ring = {
      ...base,
      plate: { ...base.plate, holes: [{ kind: 'circle', centreMm: [0, 0], radiusMm: 80 }] },
    } as const;
    near(parameters(ring, 200), [13.6027, 19.5943, 19.5943, 31.535, 31.535], 1e-3, 'annulus-bessel');
  });

  it('even pressure and a force in the middle', () => {
    const answer = (outline: PlateShape, bending: 'clamped' | 'hinged') =>
      analysePlate(
        plate(outline, bending, {
          modes: 0,
          loads: [
            { kind: 'pressure', atMm: [0, 0], pascals: 1000 },
            { kind: 'force', atMm: [0, 0], newtons: 10 },
          ],
        }),
      ).loads.map((load) => load.deflectionMm);
    const q = 1e-3;
    const source = 'timoshenko-plates';
    const [hinged, hingedPoint] = answer(square, 'hinged');
    expectClose((hinged! * rigidity) / (q * 400 ** 4), 0.00406235, { tol: 2e-6, source });
    expectClose((hingedPoint! * rigidity) / (10 * 400 ** 2), 0.0116008, { tol: 3e-5, source });
    const [clamped] = answer(square, 'clamped');
    expectClose((clamped! * rigidity) / (q * 400 ** 4), 0.00126532, { tol: 1e-6, source });
    const [round] = answer(circle, 'clamped');
    expectClose((round! * rigidity) / (q * 200 ** 4), 1 / 64, { tol: 2e-5, source });
    const [long] = answer({ kind: 'rectangle', alongMm: 400, acrossMm: 200 }, 'hinged');
    expectClose((long! * rigidity) / (q * 200 ** 4), 0.01013, { tol: 1e-5, source });
  });

  it('a simply supported orthotropic sheet', () => {
    const eAlongMPa = 10800;
    const sheet: PlateProblem = {
      plate: {
        outline: { kind: 'rectangle', alongMm: 500, acrossMm: 400 },
        thicknessMm: 3,
        material: {
          eAlongMPa,
          eAcrossMPa: 0.078 * eAlongMPa,
          shearMPa: 0.064 * eAlongMPa,
          poissonAlongAcross: 0.372,
          densityKgPerM3: 448,
        },
        holes: [],
      },
      bars: [],
      support: { bending: 'hinged', inPlane: 'pinned' },
      loads: [{ kind: 'pressure', atMm: [0, 0], pascals: 100 }],
      modes: 5,
    };
    const answer = analysePlate(sheet);
    near(
      [...answer.frequenciesHz],
      [34.784, 65.7562, 114.3955, 122.516, 139.1358],
      1e-3,
      'orthotropic-navier',
    );
    expectClose(answer.loads[0]?.deflectionMm, 2.44998, { tol: 2e-3, source: 'orthotropic-navier' });
  });
});

describe('convergence', () => {
  it('the error of the fourth hinged frequency falls with at least the cube of the edge length', () => {
    const exact = 8 * Math.PI ** 2;
    const errors = [100, 50, 25].map((meshMm) =>
      Math.abs(parameters(plate(square, 'hinged', { meshMm }), 400)[3]! / exact - 1),
    );
    expect(Math.log2(errors[0]! / errors[1]!)).toBeGreaterThan(3);
    expect(Math.log2(errors[1]! / errors[2]!)).toBeGreaterThan(3);
  });

  it('the estimated error covers the true one', () => {
    const problem = plate(square, 'clamped', {
      meshMm: 60,
      loads: [{ kind: 'force', atMm: [0, 0], newtons: 1 }],
    });
    const answer = analysePlate(problem, { check: true });
    // 0.005605 P a^2 / D
    const exact = (0.00561205 * 400 ** 2) / rigidity;
    const trueError = Math.abs(answer.loads[0]!.deflectionMm / exact - 1);
    expect(answer.estimatedErrorFrac).toBeGreaterThan(trueError / 2);
    expect(answer.estimatedErrorFrac).toBeLessThan(0.06);
  });
});

describe('bars', () => {
  const wood: PlateMaterial = {
    eAlongMPa: 11000,
    eAcrossMPa: 850,
    shearMPa: 750,
    poissonAlongAcross: 0.37,
    densityKgPerM3: 420,
  };
  const bar = { widthMm: 8, heightMm: 12, eMPa: 11000, shearMPa: 710, densityKgPerM3: 420 };
  const withBars = (bars: PlateProblem['bars']): PlateProblem => ({
    plate: {
      outline: { kind: 'ellipse', semiAlongMm: 250, semiAcrossMm: 200 },
      thicknessMm: 2.8,
      material: wood,
      holes: [],
    },
    bars,
    support: { bending: 'clamped', inPlane: 'pinned' },
    loads: [{ kind: 'force', atMm: [40, 10], newtons: 10 }],
    modes: 3,
    meshMm: 30,
  });

  it('two bars of half the width in the same place are one bar', () => {
    const ends = { fromMm: [-120, -90], toMm: [150, 60] } as const;
    const one = analysePlate(withBars([{ ...bar, ...ends, shearMPa: 1e-6 }]));
    const half = { ...bar, ...ends, widthMm: 4, shearMPa: 1e-6 };
    const two = analysePlate(withBars([half, { ...half, fromMm: ends.toMm, toMm: ends.fromMm }]));
    near([...two.frequenciesHz], [...one.frequenciesHz], 1e-3, 'arithmetic');
  });

  it('a bar carved evenly lies between the full bar and the carved-through one', () => {
    const ends = { fromMm: [-150, 0], toMm: [150, 0] } as const;
    const move = (heightsMm: [number, number][] | undefined, heightMm: number) =>
      analysePlate(withBars([{ ...bar, ...ends, heightMm, ...(heightsMm ? { heightsMm } : {}) }])).loads[0]!
        .deflectionMm;
    const full = move(undefined, 12);
    const low = move(undefined, 6);
    const tapered = move(
      [
        [0, 6],
        [0.5, 12],
        [1, 6],
      ],
      12,
    );
    expect(full).toBeLessThan(tapered);
    expect(tapered).toBeLessThan(low);
    expectClose(
      move(
        [
          [0, 12],
          [1, 12],
        ],
        12,
      ),
      full,
      { tol: full * 1e-3, source: 'arithmetic' },
    );
  });

  it('the answer turns with the frame where the wood is the same both ways', () => {
    const even = { ...wood, eAcrossMPa: 11000, shearMPa: 11000 / 2.74 };
    const turned = (angle: number): number[] => {
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      const to = ([x, y]: readonly [number, number]): [number, number] => [c * x - s * y, s * x + c * y];
      return [
        ...analysePlate({
          plate: {
            outline: { kind: 'ellipse', semiAlongMm: 200, semiAcrossMm: 200 },
            thicknessMm: 2.8,
            material: even,
            holes: [{ kind: 'circle', centreMm: to([70, 0]), radiusMm: 40 }],
          },
          bars: [
            { ...bar, fromMm: to([-200, 0]), toMm: to([20, 0]) },
            { ...bar, fromMm: to([-60, -120]), toMm: to([-60, 120]) },
          ],
          support: { bending: 'clamped', inPlane: 'pinned' },
          loads: [],
          modes: 4,
          meshMm: 14,
        }).frequenciesHz,
      ];
    };
    near(turned(0.7), turned(0), 4e-3, 'plane-geometry');
  });
});

describe('layers', () => {
  it('a sheet of the same wood over the whole plate is a thicker plate', () => {
    const outline: PlateShape = { kind: 'rectangle', alongMm: 300, acrossMm: 200 };
    const problem = (h: number, layer: number): PlateProblem => ({
      ...plate(outline, 'clamped', { modes: 3, meshMm: 30 }),
      plate: {
        outline,
        thicknessMm: h,
        material: isotropic,
        holes: [],
        ...(layer > 0
          ? {
              layers: [
                {
                  pointsMm: [
                    [-150, -100],
                    [150, -100],
                    [150, 100],
                    [-150, 100],
                  ],
                  thicknessMm: layer,
                  face: 'opposite',
                  material: isotropic,
                },
              ],
            }
          : {}),
      },
      support: { bending: 'clamped', inPlane: 'free' },
    });
    near(
      [...analysePlate(problem(2, 1)).frequenciesHz],
      [...analysePlate(problem(3, 0)).frequenciesHz],
      1e-3,
      'arithmetic',
    );
  });
});

describe('limits', () => {
  it('refuses a mesh too fine for memory and stops when cancelled', () => {
    expect(() => analysePlate(plate(square, 'clamped', { meshMm: 0.2 }))).toThrow(
      /meshMm 0.2 would give about/,
    );
    expect(() => analysePlate(plate(square, 'clamped'), { signal: { aborted: true } })).toThrow(InputError);
  });

  it('names its stages in order', () => {
    const stages: string[] = [];
    analysePlate(plate(square, 'clamped', { meshMm: 80 }), {
      check: true,
      onStage: (stage) => stages.push(stage),
    });
    expect(stages).toEqual([
      'mesh',
      'assemble',
      'factor',
      'static',
      'modes',
      'check',
      'mesh',
      'assemble',
      'factor',
      'static',
      'modes',
      'mesh',
      'assemble',
      'factor',
      'static',
      'modes',
    ]);
  });
});
