import { describe, it } from 'vitest';
import { analysePlate } from '../../src/mechanics/plate/analyse-plate.ts';
import { planeStress } from '../../src/mechanics/plate/plane-stress.ts';
import type { PlateMaterial } from '../../src/mechanics/plate/plate-problem.ts';
import { expectClose } from '../support/expect-close.ts';

/**
 * Hinged polygons of wood whose twisting stiffness is the geometric mean of its two bending stiffnesses: drawn in along
 * the grain by the fourth root of their ratio such a plate is an even one, and an even hinged plate with straight edges
 * swings like a stretched skin (the square of its number). So oblique, very unequal polygons of wood have exact answers.
 */
const thicknessMm = 2.8;
const wood: PlateMaterial = (() => {
  const base = { eAlongMPa: 11_000, eAcrossMPa: 850, poissonAlongAcross: 0.37, densityKgPerM3: 420 };
  const c = planeStress({ ...base, shearMPa: 1 });
  return { ...base, shearMPa: (Math.sqrt(c.c11 * c.c22) - c.c12) / 2 };
})();
const { c11, c22 } = planeStress(wood);
const drawn = (c22 / c11) ** 0.25;

type Points = readonly (readonly [number, number])[];

/** The wooden polygon that becomes these points, turned, when it is drawn in along the grain. */
const woodOf = (points: Points, turnRad: number): [number, number][] =>
  points.map(([x, y]) => [
    (Math.cos(turnRad) * x - Math.sin(turnRad) * y) / drawn,
    Math.sin(turnRad) * x + Math.cos(turnRad) * y,
  ]);

function frequenciesHz(pointsMm: [number, number][], modes: number): readonly number[] {
  return analysePlate({
    plate: { outline: { kind: 'polygon', pointsMm }, thicknessMm, material: wood, holes: [] },
    bars: [],
    support: { bending: 'hinged', inPlane: 'pinned' },
    loads: [],
    modes,
  }).frequenciesHz;
}

/** From the number of the skin (1/mm2) to the frequency of the plate. */
const toHz = (perMm2: number): number =>
  (perMm2 * Math.sqrt((c22 * thicknessMm ** 2) / 12 / (wood.densityKgPerM3 * 1e-12))) / (2 * Math.PI);

const side = 200;
const half = (side * Math.sqrt(3)) / 2;

describe('hinged polygons of wood against exact answers', () => {
  it.each([0.2, 0.9])('a triangle, turned by %d', (turnRad) => {
    const points: Points = [
      [0, 0],
      [side, 0],
      [side / 2, half],
    ];
    // Lame: 16 pi2 / 9 (m2 + m n + n2) / side2, (m, n) 1 1, 1 2 and 2 1, 2 2, 1 3 and 3 1
    const got = frequenciesHz(woodOf(points, turnRad), 6);
    [3, 7, 7, 12, 13, 13].forEach((n, k) => {
      const exact = toHz((16 * Math.PI ** 2 * n) / (9 * side ** 2));
      expectClose(got[k], exact, { tol: exact * 2e-3, source: 'membrane-polygons' });
    });
  });

  it.each([0.35, 0.6])('an oblique four-sided plate, turned by %d', (turnRad) => {
    const points: Points = [
      [0, 0],
      [side, 0],
      [side, side],
      [0, side],
    ];
    const got = frequenciesHz(woodOf(points, turnRad), 6);
    [2, 5, 5, 8, 10, 10].forEach((n, k) => {
      const exact = toHz((Math.PI ** 2 * n) / side ** 2);
      expectClose(got[k], exact, { tol: exact * 2e-3, source: 'membrane-polygons' });
    });
  });

  it.each([0, 0.2, 0.45])('a six-sided plate with blunt corners, turned by %d', (turnRad) => {
    const points = Array.from({ length: 6 }, (_, i): [number, number] => [
      side * Math.cos((Math.PI * i) / 3),
      side * Math.sin((Math.PI * i) / 3),
    ]);
    const exact = toHz(7.15533913 / side ** 2);
    expectClose(frequenciesHz(woodOf(points, turnRad), 1)[0], exact, {
      tol: exact * 1e-3,
      source: 'membrane-polygons',
    });
  });

  it('a half of the six-sided plate: 60 and 120 degrees', () => {
    // the lowest swing of the six-sided plate with a still line through two corners has this half to itself
    const points: Points = [
      [side, 0],
      [side / 2, half],
      [-side / 2, half],
      [-side, 0],
    ];
    const whole = Array.from({ length: 6 }, (_, i): [number, number] => [
      side * Math.cos((Math.PI * i) / 3),
      side * Math.sin((Math.PI * i) / 3),
    ]);
    const [own] = frequenciesHz(woodOf(points, 0.3), 1);
    // second of the whole; its two lowest after the first are equal
    const second = frequenciesHz(woodOf(whole, 0.3), 3);
    expectClose(second[1], second[2]!, { tol: second[2]! * 1e-3, source: 'plane-geometry' });
    expectClose(own, second[1]!, { tol: second[1]! * 1.5e-3, source: 'plane-geometry' });
  });
});
