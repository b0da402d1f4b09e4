import { type AirBox, type CoupledTones, coupledTones, soundSpeedMPerS } from './air-tones.ts';
import type { TopMode } from './top-answer.ts';

/** What is added to the thickness of the top for the air that moves with the plug, both ends together, in hole radii. */
export const endCorrections = {
  /** Two flanged ends, 2 x 0.85 (the usual workshop number). */
  flanged: { radiusRatio: 1.7, source: 'helmholtz-resonator' },
  /** Two flanged ends exactly, 2 x 8 / (3 pi), right for a long neck. */
  flangedExact: { radiusRatio: 16 / (3 * Math.PI), source: 'helmholtz-resonator' },
  /** A hole in a thin wall, pi / 2: the plug has no thickness of its own. */
  thinHole: { radiusRatio: Math.PI / 2, source: 'rayleigh-conductivity' },
  /** Two unflanged ends, 2 x 0.6133. */
  unflanged: { radiusRatio: 2 * 0.6133, source: 'helmholtz-resonator' },
} as const;

export type EndCorrection = keyof typeof endCorrections;

/**
 * Air tone of a rigid box with a round hole, with a named end correction.
 *
 * @param box         volume, hole, thickness of the top at the hole, temperature
 * @param correction  which end correction
 * @param countsWall  whether the thickness of the top is part of the plug (not for the thin hole)
 * @returns           Hz
 * @assumes           walls stand still; wavelength much longer than the box
 * @source            helmholtz-resonator
 */
export function rigidAirToneHz(
  box: AirBox,
  correction: EndCorrection,
  countsWall = correction !== 'thinHole',
): number {
  const radiusM = box.holeRadiusMm / 1000;
  const plugM = (countsWall ? box.topMm / 1000 : 0) + endCorrections[correction].radiusRatio * radiusM;
  const areaM2 = Math.PI * radiusM ** 2;
  return (
    (soundSpeedMPerS(box.tempC) / (2 * Math.PI)) * Math.sqrt(areaM2 / ((box.volumeLitre / 1000) * plugM))
  );
}

/** Air and top together, with the piston taken from the plate. */
export interface AirWithTop extends CoupledTones {
  /** The piston as computed: area, mass and bare tone of the mode that moves the most air. */
  readonly areaCm2: number;
  readonly massG: number;
  readonly bareHz: number;
}

/**
 * Coupled tones of the air and the computed top, instead of an assumed piston.
 *
 * @param box    the box
 * @param modes  modes of the top, lowest first
 * @returns      tones, and the piston used; undefined when no mode moves air
 * @assumes      the mode that moves most air for its mass among the first three; back and sides stand still: real
 *               boxes read 8 to 15 % lower in the low tone
 * @source       christensen-vistisen-1980
 */
export function airWithTop(box: AirBox, modes: readonly TopMode[]): AirWithTop | undefined {
  const power = (mode: TopMode) => mode.pistonAreaM2 ** 2 / mode.pistonMassKg;
  const [first, ...others] = modes.slice(0, 3);
  if (!first) return undefined;
  const main = others.reduce((best, mode) => (power(mode) > power(best) ? mode : best), first);
  // the mode's mass is that of its largest place; as a piston of even movement area and mass keep area^2 / mass
  const areaCm2 = main.pistonAreaM2 * 1e4;
  const massG = main.pistonMassKg * 1000;
  if (!(areaCm2 > 0)) return undefined;
  const tones = coupledTones(box, { areaCm2, massG, bareHz: main.frequencyHz });
  return { ...tones, areaCm2, massG, bareHz: main.frequencyHz };
}
