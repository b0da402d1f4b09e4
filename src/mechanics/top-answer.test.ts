import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { analysePlate } from './plate/analyse-plate.ts';
import { barShares } from './plate/bar-shares.ts';
import type { PlacePair, PlateProblem } from './plate/plate-problem.ts';
import { readTopAnswer } from './top-answer.ts';
import { type TopInput, type TopProblem, topProblem } from './top-problem.ts';

const spruce = {
  eAlongMPa: 11000,
  eAcrossMPa: 850,
  shearMPa: 750,
  poissonAlongAcross: 0.37,
  densityKgPerM3: 420,
};
const hard = {
  eAlongMPa: 13000,
  eAcrossMPa: 1800,
  shearMPa: 1300,
  poissonAlongAcross: 0.35,
  densityKgPerM3: 800,
};
const brace = { widthMm: 7, heightMm: 10, eMPa: 11000, shearMPa: 710, densityKgPerM3: 420 };

/** An own small egg-shaped top, 300 long, 220 wide, hole toward the neck end. */
const egg: PlacePair[] = Array.from({ length: 72 }, (_, i) => {
  const angle = (Math.PI * i) / 36;
  return [110 * Math.sin(angle) * (1 - 0.15 * Math.cos(angle)), 150 - 150 * Math.cos(angle)];
});
const own: TopInput = {
  outlineMm: egg,
  hole: { centreMm: [0, 95], radiusMm: 30 },
  thicknessMm: 2.2,
  wood: spruce,
  bars: [
    { ...brace, id: 'treble', fromMm: [20, 135], toMm: [45, 262] },
    { ...brace, id: 'bass', fromMm: [-20, 135], toMm: [-45, 262] },
  ],
  bridge: { centreMm: [0, 195], acrossMm: 100, alongMm: 24, thicknessMm: 5, wood: hard },
  tensionN: 300,
  stringHeightMm: 10,
  rim: 'clamped',
  modes: 4,
  meshMm: 16,
};

function solve(top: TopInput, hasShares = false) {
  const made = topProblem(top);
  const answer = analysePlate(made.problem, { withShapes: true });
  return readTopAnswer(made, answer, hasShares ? barShares(made.problem, 1) : undefined);
}

describe('a top under its strings', () => {
  const answer = solve(own, true);

  it('tips forward: it sinks before the bridge and lifts behind it', () => {
    expect(answer.tiltDeg).toBeGreaterThan(0.1);
    expect(answer.liftAtMm[1]).toBeGreaterThan(195);
    expect(answer.sinkAtMm[1]).toBeLessThan(195);
    expect(answer.liftMm).toBeGreaterThan(0);
    expect(answer.sinkMm).toBeGreaterThan(0);
  });

  it('two braces that mirror each other have the same share, and carving either tips it more', () => {
    const [treble, bass] = answer.braces;
    expect(treble?.id).toBe('treble');
    expectClose(bass?.energyFrac, treble!.energyFrac, {
      tol: treble!.energyFrac * 0.03,
      source: 'plane-geometry',
    });
    expectClose(bass?.tiltPerMmDeg, treble!.tiltPerMmDeg, {
      tol: treble!.tiltPerMmDeg * 0.05,
      source: 'plane-geometry',
    });
    expect(treble!.tiltPerMmDeg).toBeGreaterThan(0);
    expect(treble!.energyFrac + bass!.energyFrac).toBeLessThan(1);
    expect(treble!.stressMPa).toBeGreaterThan(0.1);
  });

  it('the change by carving is the difference of two analyses', () => {
    const lower = solve({ ...own, bars: [{ ...own.bars[0]!, heightMm: 9 }, own.bars[1]!] });
    const change = lower.tiltDeg - answer.tiltDeg;
    expectClose(answer.braces[0]?.tiltPerMmDeg, change, { tol: change * 0.02, source: 'arithmetic' });
  });

  it('everything grows with the tension, and turning the outline round changes nothing', () => {
    expectClose(solve({ ...own, tensionN: 600 }).tiltDeg, 2 * answer.tiltDeg, {
      tol: answer.tiltDeg * 1e-3,
      source: 'arithmetic',
    });
    const turned = solve({ ...own, outlineMm: [...egg].reverse() });
    expectClose(turned.tiltDeg, answer.tiltDeg, { tol: answer.tiltDeg * 1e-2, source: 'plane-geometry' });
  });

  it('the first mode is one field with a mass below that of the whole top', () => {
    expect(answer.modes[0]?.name).toBe('one field');
    expect(answer.modes[0]!.pistonMassKg).toBeGreaterThan(0.005);
    expect(answer.modes[0]!.pistonMassKg).toBeLessThan(0.09);
    expect(answer.modes[0]!.pistonAreaM2).toBeGreaterThan(0.004);
    expect(answer.modes[0]!.pistonAreaM2).toBeLessThan(0.05);
  });

  it('refuses strings that do not pull and a brace over the hole', () => {
    expect(() => topProblem({ ...own, tensionN: 0 })).toThrow(/pull with 0 N/);
    const over = { ...brace, id: 'over', fromMm: [-60, 95], toMm: [60, 95] } as const;
    expect(() => topProblem({ ...own, bars: [over] })).toThrow('bars[0] passes over plate.holes[0]');
  });

  it('a brace that ends in the lining is held there, one that ends short of it is not', () => {
    const rim = topProblem({ ...own, bars: [{ ...brace, id: 'a', fromMm: [0, 215], toMm: [0, 295] }] });
    const [bar] = rim.problem.bars;
    expectClose(bar?.toMm[0], 150, { tol: 1e-6, source: 'plane-geometry' });
    expectClose(bar?.fromMm[0], 65, { tol: 1e-6, source: 'plane-geometry' });
  });
});

describe('names of modes', () => {
  it('a hinged rectangle gives its half waves', () => {
    const problem: PlateProblem = {
      plate: {
        outline: { kind: 'rectangle', alongMm: 500, acrossMm: 400 },
        thicknessMm: 2.8,
        material: spruce,
        holes: [],
      },
      bars: [],
      support: { bending: 'hinged', inPlane: 'pinned' },
      loads: [
        { kind: 'couple', patchMm: { centreMm: [50, 0], alongMm: 30, acrossMm: 150 }, newtonMetres: 1 },
      ],
      modes: 6,
    };
    const made: TopProblem = { problem, barIds: [], middleYMm: 250 };
    const answer = readTopAnswer(made, analysePlate(problem, { withShapes: true }), undefined);
    // Navier: f11 34.1, f12 64.3, f21 111.6, f13 119.4, f22 136.3, f23 184.2 (half waves along, across)
    expect(answer.modes.map(({ name }) => name)).toEqual([
      'one field',
      'two fields across',
      'two fields along',
      'three fields across',
      '2 x 2 fields',
      '2 x 3 fields',
    ]);
    // sin sin: a quarter of the mass moves as a piston of area 4/pi^2 of the plate
    expectClose(answer.modes[0]?.pistonMassKg, 0.25 * 0.5 * 0.4 * 0.0028 * 420, {
      tol: 6e-4,
      source: 'orthotropic-navier',
    });
    expectClose(answer.modes[0]?.pistonAreaM2, (4 / Math.PI ** 2) * 0.2, {
      tol: 1e-3,
      source: 'orthotropic-navier',
    });
  });
});
