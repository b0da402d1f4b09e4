import { describe, expect, it } from 'vitest';
import { expectClose } from '../../../test/support/expect-close.ts';
import { analysePlate } from './analyse-plate.ts';
import { checkPlateProblem } from './check-plate-problem.ts';

/** Timoshenko's formula for two strips of the same width, written as he does. */
function bimetal(strain: number, t1: number, t2: number, e1: number, e2: number): number {
  const m = t1 / t2;
  const n = e1 / e2;
  return (6 * strain * (1 + m) ** 2) / ((t1 + t2) * (3 * (1 + m) ** 2 + (1 + m * n) * (m * m + 1 / (m * n))));
}

const even = (eMPa: number) => ({
  eAlongMPa: eMPa,
  eAcrossMPa: eMPa,
  shearMPa: eMPa / 2,
  poissonAlongAcross: 0,
  densityKgPerM3: 400,
});
const lengthMm = 200;

/** A strip so wide that its middle bows like a strip of its length. */
function strip(widthMm: number, more: object, plate: object) {
  return {
    plate: {
      outline: { kind: 'rectangle', alongMm: lengthMm, acrossMm: widthMm },
      thicknessMm: 3,
      material: even(5000),
      holes: [],
      ...plate,
    },
    bars: [],
    support: { bending: 'hinged', inPlane: 'free' },
    loads: [{ kind: 'swelling', atMm: [0, 0], plateFrac: [0.003, 0] }],
    modes: 0,
    ...more,
  };
}
const rise = (problem: object): number => analysePlate(checkPlateProblem(problem)).loads[0]!.deflectionMm;

describe('a plate that swells', () => {
  it('with a sheet glued all over its one face is the strip of two metals: curvature x length^2 / 8', () => {
    const w = 700;
    const sheet = {
      pointsMm: [
        [-100, -w],
        [100, -w],
        [100, w],
        [-100, w],
      ],
      thicknessMm: 2,
      face: 'bars',
      material: even(12_000),
    };
    const expected = (bimetal(0.003, 3, 2, 5000, 12_000) * lengthMm ** 2) / 8;
    expectClose(rise(strip(2 * w, { meshMm: 50 }, { layers: [sheet] })), expected, {
      tol: expected * 2e-3,
      source: 'timoshenko-bimetal',
    });
  });

  it('with thin bars close together as well, each bar with its share of the plate', () => {
    const step = 20;
    const bars = Array.from({ length: 25 }, (_, i) => ({
      fromMm: [-100, (i - 12) * step],
      toMm: [100, (i - 12) * step],
      widthMm: 4,
      heightMm: 3,
      eMPa: 11_000,
      shearMPa: 1e-6,
      densityKgPerM3: 400,
    }));
    // a bar of 4 in a share of 20 is a sheet of a fifth of its modulus
    const expected = (bimetal(0.003, 3, 3, 5000, 11_000 / 5) * lengthMm ** 2) / 8;
    expectClose(rise(strip(26 * step, { bars, meshMm: 50 }, {})), expected, {
      tol: expected * 0.02,
      source: 'timoshenko-bimetal',
    });
    // bars that swell as much leave it flat
    const both = [{ kind: 'swelling', atMm: [0, 0], plateFrac: [0.003, 0], barsFrac: 0.003 }];
    expectClose(rise(strip(26 * step, { bars, meshMm: 50, loads: both }, {})), 0, {
      tol: 1e-9,
      source: 'arithmetic',
    });
  });

  it('and has no bars stays flat', () => {
    expectClose(rise(strip(200, {}, {})), 0, { tol: 1e-12, source: 'arithmetic' });
  });

  it('a dome whose rim is held rises by radius x growth, away from its hollow side', () => {
    // a shell so curved that its middle is a stress-free sphere; beside the hinged rim its movement dies away as
    // e^-z cos z, z = way / b, b = sqrt(R t) / (3 (1 - nu^2))^(1/4); what the plate does not stretch there the middle
    // makes up for: factor 1 + (1 + nu) b / (2 a)
    const [radiusMm, rimMm, nu] = [1000, 300, 0.3];
    const reachMm = Math.sqrt(radiusMm * 1) / (3 * (1 - nu ** 2)) ** 0.25;
    const edge = 1 + ((1 + nu) * reachMm) / (2 * rimMm);
    const dome = {
      plate: {
        outline: { kind: 'ellipse', semiAlongMm: 300, semiAcrossMm: 300 },
        thicknessMm: 1,
        material: { ...even(5000), shearMPa: 5000 / 2.6, poissonAlongAcross: 0.3 },
        holes: [],
        domeRadiusMm: 1000,
      },
      bars: [],
      support: { bending: 'hinged', inPlane: 'pinned' },
      loads: [
        { kind: 'swelling', atMm: [0, 0], plateFrac: [0.001, 0.001] },
        { kind: 'pressure', atMm: [0, 0], pascals: -1000 },
      ],
      modes: 0,
      meshMm: 20,
    };
    const [swollen, pressed] = analysePlate(checkPlateProblem(dome)).loads;
    expectClose(swollen?.deflectionMm, radiusMm * 0.001 * edge, { tol: 0.006, source: 'timoshenko-plates' });
    // p R2 (1 - nu) / (2 E t), a membrane; pressure counts toward the hollow side
    const membrane = (1e-3 * radiusMm ** 2 * (1 - nu)) / (2 * 5000);
    expectClose(pressed?.deflectionMm, -membrane * edge, { tol: 0.0008, source: 'timoshenko-plates' });
  });

  it('a growth that no wood has is refused', () => {
    const bad = [{ kind: 'swelling', atMm: [0, 0], plateFrac: [0, 0.5] }];
    expect(() => checkPlateProblem(strip(200, { loads: bad }, {}))).toThrow(
      'loads[0].plateFrac[1] is 0.5; a free growth lies between -0.2 and 0.2 of the length.',
    );
  });
});
