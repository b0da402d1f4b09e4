import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { boardProperties } from './board.ts';
import { answerBoard } from './board-answer.ts';
import { readBoardFile } from './board-file.ts';
import type { BoardReadings } from './board-readings.ts';
import {
  clampThickness,
  cubeRootThicknessMm,
  equalF11ThicknessMm,
  equalTiltThicknessMm,
  f11Hz,
  thicknessForReading,
} from './board-thickness.ts';
import { ringAngleFrac, runoutFrac } from './grain.ts';

const practice = 'common practice, no published source';
const exactly = (value: number) => ({ value, plusMinus: 0 });

/** The half plate of the check: 530 x 205 x 4.2, E 11.6 and 0.8 GPa, G 0.75 GPa, 400 kg/m3. */
const half: BoardReadings = {
  lengthMm: exactly(530),
  widthMm: exactly(205),
  thicknessMm: exactly(4.2),
  massG: exactly(530 * 205 * 4.2 * 400e-6),
  species: 'spruce',
};

describe('one board', () => {
  it('tap notes 82.8 and 145.3 Hz of the half plate give 11.6 and 0.8 GPa', () => {
    const board = boardProperties({ ...half, tapAlongHz: exactly(82.8), tapAcrossHz: exactly(145.3) });
    expectClose(board.densityKgPerM3.value, 400, { tol: 1e-6, source: 'arithmetic' });
    expectClose(board.eAlongMPa.value, 11600, { tol: 40, source: 'free-free-beam' });
    expectClose(board.eAcrossMPa.value, 800, { tol: 3, source: 'free-free-beam' });
  });

  it('the twisting note 55.7 Hz found by Ritz gives back G 0.75 GPa', () => {
    const board = boardProperties({ ...half, tapAlongHz: exactly(82.8), tapTwistHz: exactly(55.7) });
    expectClose(board.shearMPa.value, 750, { tol: 8, source: 'twist-of-plate' });
  });

  it('a bending test gives E = F L^3 / (4 b t^3 d)', () => {
    // 11.6 GPa: 500 g in the middle of 480 mm
    const deflection = (0.5 * 9.80665 * 480 ** 3) / (4 * 11600 * 205 * 4.2 ** 3);
    const board = boardProperties({
      ...half,
      bending: { spanMm: exactly(480), weightG: exactly(500), deflectionMm: exactly(deflection) },
    });
    expectClose(board.eAlongMPa.value, 11600, { tol: 1e-6, source: 'beam-theory' });
    expect(board.eAlongMPa.from).toBe('bending');
    expect(board.eAcrossMPa.from).toBe('handbook ratio');
    expectClose(board.eAcrossMPa.value, 11600 * 0.078, { tol: 1e-6, source: 'wood-handbook' });
  });

  it('errors of the readings go on into E with their powers (seed 7)', () => {
    fc.assert(
      fc.property(fc.constantFrom('lengthMm', 'widthMm', 'thicknessMm', 'massG', 'tapAlongHz'), (key) => {
        const base = { ...half, tapAlongHz: exactly(82.8) };
        const shifted = { ...base, [key]: exactly(base[key].value * 1.001) };
        const measured =
          (boardProperties(shifted).eAlongMPa.value / boardProperties(base).eAlongMPa.value - 1) * 1000;
        const unsure = { ...base, [key]: { value: base[key].value, plusMinus: base[key].value * 0.001 } };
        const { value, plusMinus } = boardProperties(unsure).eAlongMPa;
        expectClose((plusMinus / value) * 1000, Math.abs(measured), { tol: 0.02, source: 'arithmetic' });
      }),
      { seed: 7, numRuns: 20 },
    );
    // 4 powers of the length at a given density, one less through the density itself
    const base = { ...half, tapAlongHz: exactly(82.8) };
    const longer = boardProperties({ ...base, lengthMm: exactly(530 * 1.01) });
    expectClose(longer.eAlongMPa.value / boardProperties(base).eAlongMPa.value, 1.01 ** 3, {
      tol: 1e-9,
      source: 'free-free-beam',
    });
  });

  it('doubts a board outside its band and readings that disagree', () => {
    const soft = boardProperties({ ...half, tapAlongHz: exactly(70) });
    expect(soft.doubts.map(({ code }) => code)).toEqual(['board-outside-band']);
    expect(soft.doubts[0]?.text).toMatch(
      /^E along is 8\d\d\d MPa, outside the usual 9000 to 14000 for spruce/,
    );
    const twice = boardProperties({
      ...half,
      tapAlongHz: { value: 82.8, plusMinus: 0.4 },
      bending: {
        spanMm: exactly(480),
        weightG: exactly(500),
        deflectionMm: { value: 0.95, plusMinus: 0.01 },
      },
    });
    expect(twice.doubts.map(({ code }) => code)).toContain('board-readings-disagree');
    expect(twice.eAlongMPa.plusMinus).toBeGreaterThan(800);
  });

  it('refuses what no wood could give', () => {
    expect(() => boardProperties({ ...half, tapAlongHz: exactly(400) })).toThrow(/outside any wood/);
    expect(() => boardProperties({ ...half, tapAlongHz: exactly(-5) })).toThrow(
      'taps.along_hz is -5; it must be above 0',
    );
    expect(() => boardProperties({ ...half, massG: exactly(-180), tapAlongHz: exactly(80) })).toThrow(
      'mass_g is -180',
    );
    expect(() => boardProperties(half)).toThrow('neither a bending test nor a tap note');
    const wide = { spanMm: exactly(600), weightG: exactly(500), deflectionMm: exactly(1) };
    expect(() => boardProperties({ ...half, bending: wide })).toThrow('the rests must lie under the board');
  });
});

const wood = (eAlongMPa: number) => ({
  eAlongMPa,
  eAcrossMPa: 800,
  shearMPa: 750,
  poissonAlongAcross: 0.37,
  densityKgPerM3: 400,
});

describe('thickness for a board', () => {
  it.each([
    [8000, 3.11],
    [9000, 2.99],
    [10000, 2.89],
    [12000, 2.72],
    [14000, 2.58],
  ])('cube root: %i MPa wants %f mm where 11 GPa wants 2.8', (e, mm) => {
    expectClose(cubeRootThicknessMm({ material: wood(11000), thicknessMm: 2.8 }, wood(e)), mm, {
      tol: 0.006,
      source: practice,
    });
  });

  it.each([
    [2.6, 53.0],
    [2.8, 57.0],
    [3.0, 61.1],
  ])('f11 of 0.40 x 0.30 m at %f mm is %f Hz', (thicknessMm, hz) => {
    expectClose(f11Hz({ material: wood(11600), thicknessMm }, 400, 300), hz, {
      tol: 0.06,
      source: 'orthotropic-navier',
    });
  });

  it('the f11 rule gives the reference back for the reference board, and less for a stiffer one', () => {
    const reference = { material: wood(11600), thicknessMm: 2.8 };
    expectClose(equalF11ThicknessMm(reference, wood(11600)), 2.8, {
      tol: 1e-9,
      source: 'orthotropic-navier',
    });
    expect(equalF11ThicknessMm(reference, wood(14000))).toBeLessThan(2.8);
  });

  it('finds the thickness of a reading that falls with its cube, and stops at the ends', () => {
    const reading = (mm: number) => 20 / mm ** 2.6;
    expectClose(thicknessForReading(reading, reading(2.37), 3, 1, 5), 2.37, {
      tol: 2e-3,
      source: 'arithmetic',
    });
    expectClose(thicknessForReading(reading, 1e-3, 3, 1, 5), 5, { tol: 1e-9, source: 'arithmetic' });
  });

  it('equal tilt with the whole top: a stiffer board goes thinner, by less than the cube root where braces carry most', () => {
    const top = {
      outlineMm: Array.from({ length: 60 }, (_, i): [number, number] => [
        100 * Math.sin((Math.PI * i) / 30),
        150 - 150 * Math.cos((Math.PI * i) / 30),
      ]),
      thicknessMm: 2.2,
      wood: wood(11000),
      bars: [],
      bridge: { centreMm: [0, 200] as const, acrossMm: 80, alongMm: 24, thicknessMm: 0, wood: wood(11000) },
      tensionN: 200,
      stringHeightMm: 8,
      rim: 'clamped' as const,
      modes: 0,
      meshMm: 20,
    };
    const reference = { material: wood(11000), thicknessMm: 2.2 };
    expectClose(equalTiltThicknessMm(top, reference, wood(11000)), 2.2, { tol: 2e-3, source: 'arithmetic' });
    // all moduli 1.3 times: a bare plate follows the cube root exactly
    const stiff = { ...wood(14300), eAcrossMPa: 1040, shearMPa: 975 };
    expectClose(equalTiltThicknessMm(top, reference, stiff), 2.2 / Math.cbrt(1.3), {
      tol: 3e-3,
      source: 'beam-theory',
    });
  });

  it('stays between the limits and says why', () => {
    const limits = { lowMm: 2.5, highMm: 3.1 };
    expect(clampThickness('cube root', 2.7, limits).usedMm).toBe(2.7);
    expect(clampThickness('cube root', 2.3, limits)).toMatchObject({
      usedMm: 2.5,
      reason: expect.stringContaining('scrap limit'),
    });
    expect(clampThickness('cube root', 3.4, limits)).toMatchObject({
      usedMm: 3.1,
      reason: expect.stringContaining('thicker than 3.1'),
    });
  });
});

describe('grain', () => {
  it.each([
    [5, 0.85],
    [10, 0.6],
    [15, 0.41],
    [20, 0.29],
    [45, 0.14],
  ])('rings %i degrees off leave %f of the stiffness across', (angle, frac) => {
    expectClose(ringAngleFrac(angle), frac, { tol: 0.006, source: 'wood-handbook' });
  });

  it('runout costs less than ring angle, and nothing at 0', () => {
    expectClose(runoutFrac(0), 1, { tol: 1e-12, source: 'arithmetic' });
    expect(runoutFrac(5)).toBeGreaterThan(ringAngleFrac(5));
    expect(runoutFrac(5)).toBeLessThan(0.95);
    expectClose(runoutFrac(90), 0.078, { tol: 1e-9, source: 'wood-handbook' });
  });
});

describe('board files', () => {
  const file = {
    format: 'bracewright-board/1',
    name: 'board 7',
    length_mm: 530,
    width_mm: 205,
    thickness_mm: 4.2,
    mass_g: 182.5,
    taps: { along_hz: 82.8, across_hz: 145.3, twist_hz: 55.7 },
  };

  it('a plain file gives properties and three thicknesses', () => {
    const answer = answerBoard(readBoardFile(file));
    expect(answer.thickness.map(({ rule }) => rule)).toEqual(['cube root', 'equal pitch', 'equal f11']);
    expect(answer.properties.eAlongMPa.plusMinus / answer.properties.eAlongMPa.value).toBeLessThan(0.05);
    expect(answer.properties.doubts).toEqual([]);
  });

  it.each([
    [{ ...file, format: 'x' }, 'format is "x"; a board file begins with'],
    [{ ...file, lenght_mm: 5 }, 'lenght_mm is not known here'],
    [{ ...file, length_mm: 'long' }, 'length_mm is "long"; it must be a number.'],
    [{ ...file, species: 'oak' }, 'species is "oak"; it must be spruce, cedar or other.'],
    [{ ...file, ring_angle_deg: 100 }, 'ring_angle_deg is 100'],
    [{ ...file, taps: { along: 3 } }, 'taps.along is not known here'],
    [{ ...file, reference: { low_mm: 4 } }, 'reference.low_mm is 4, above high_mm of 3.1'],
    [[], 'The board file is []; it must have named members.'],
  ])('refuses %j', (value, words) => {
    expect(() => readBoardFile(value)).toThrow(words);
  });
});
