import { minimiseSquares } from '../numeric/least-squares.ts';
import { findRoot } from '../numeric/roots.ts';

/** Cents in a natural unit of pitch: 1200 / ln 2 = 1731.23. */
export const CENTS_PER_NEPER = 1200 / Math.LN2;

/** What a string is made of. */
export interface StringBody {
  /** Mass per length, g/m. */
  readonly massGPerM: number;
  /** E A of what stretches (the core of a wound string), N. */
  readonly axialStiffnessN: number;
  /** E I of what bends (the core of a wound string), N mm2. */
  readonly bendingStiffnessNmm2: number;
}

/** A string on its neck, heights above the line of the fret tops. */
export interface StrungString extends StringBody {
  readonly frequencyHz: number;
  /** Floor of the nut slot, mm. */
  readonly nutHeightMm: number;
  /** Height over fret 12, open string, mm. */
  readonly action12Mm: number;
}

/** What all strings of a neck share. */
export interface NeckLine {
  readonly scaleMm: number;
  /** How far the finger pushes the string below the fret tops, midway behind the fret, mm. */
  readonly pressDepthMm: number;
  /** 0 hinged ends (exact), 1 clamped ends (first order). */
  readonly endFixityRatio: number;
  /** String beyond nut and saddle that shares the stretch, mm; 0 is the worst case. */
  readonly sharedLengthMm: number;
}

/** Where the two ends really are, against the theoretical scale. */
export interface EndShift {
  /** Saddle behind the scale length, mm, + away from the nut. */
  readonly saddleMm: number;
  /** Nut ahead of the scale's zero, mm, + toward the saddle. */
  readonly nutMm: number;
}

/**
 * Mass per length of a plain string.
 *
 * @param diameterMm        > 0
 * @param densityKgPerM3    steel 7850, nylon 1060 to 1150 (from memory)
 * @returns                 g/m
 * @source                  plane-geometry
 */
export function plainStringMassGPerM(diameterMm: number, densityKgPerM3: number): number {
  return (densityKgPerM3 * Math.PI * diameterMm ** 2) / 4 / 1000;
}

/**
 * Mass per length of a string wound with one close layer of round wire.
 *
 * @param coreMm            diameter of the core
 * @param wrapMm            diameter of the wrap wire; the string is core + 2 wraps thick
 * @param coreKgPerM3       density of the core
 * @param wrapKgPerM3       density of the wrap
 * @returns                 g/m
 * @assumes                 a close helix of unflattened wire, its slope left out (under 1 %); real strings differ by 2 %
 * @source                  plane-geometry
 */
export function woundStringMassGPerM(
  coreMm: number,
  wrapMm: number,
  coreKgPerM3: number,
  wrapKgPerM3: number,
): number {
  const core = (coreKgPerM3 * Math.PI * coreMm ** 2) / 4;
  const wrap = (wrapKgPerM3 * Math.PI ** 2 * wrapMm * (coreMm + wrapMm)) / 4;
  return (core + wrap) / 1000;
}

/**
 * Lowest frequency of a stretched string with some stiffness.
 *
 * @param tensionN        > 0
 * @param lengthMm        speaking length; > 0
 * @param endFixityRatio  0 hinged (exact), 1 clamped (first order in the stiff end length)
 * @returns               Hz
 * @assumes               linear, no damping; the clamped limit leaves out (2 delta/L)^2, 0.3 cents for a thick nylon third string at fret 12
 * @source                fletcher-1964
 */
export function stiffStringHz(
  string: StringBody,
  tensionN: number,
  lengthMm: number,
  endFixityRatio: number,
): number {
  const massKgPerM = string.massGPerM / 1000;
  const delta = Math.sqrt(string.bendingStiffnessNmm2 / tensionN); // stiff end length, mm
  const b = (Math.PI ** 2 * string.bendingStiffnessNmm2) / (tensionN * lengthMm ** 2);
  const idealHz = (500 / lengthMm) * Math.sqrt(tensionN / massKgPerM); // [fletcher-1964], mm turned into m
  return idealHz * (1 + (2 * endFixityRatio * delta) / lengthMm) * Math.sqrt(1 + b);
}

/**
 * Tension of an ideal string.
 *
 * @returns N
 * @source  arithmetic
 */
export function idealTensionN(massGPerM: number, lengthMm: number, frequencyHz: number): number {
  return 4 * (lengthMm / 1000) ** 2 * frequencyHz ** 2 * (massGPerM / 1000);
}

/**
 * Tension at which a stiff string of one length sounds one frequency.
 *
 * @returns N
 * @assumes stiffness small against tension, as on any playable string
 * @source  fletcher-1964
 */
export function tensionForHzN(
  string: StringBody,
  lengthMm: number,
  frequencyHz: number,
  endFixityRatio: number,
): number {
  // f = (500/L) sqrt(1/mu) (r + c) sqrt(1 + b/r^2) with r = root of T: Newton in r from the ideal string
  const c = (2 * endFixityRatio * Math.sqrt(string.bendingStiffnessNmm2)) / lengthMm;
  const b = (Math.PI ** 2 * string.bendingStiffnessNmm2) / lengthMm ** 2;
  const wanted = (frequencyHz * lengthMm * Math.sqrt(string.massGPerM / 1000)) / 500;
  let r = wanted;
  for (let i = 0; i < 30; i++) {
    const w = Math.sqrt(1 + b / (r * r));
    const off = (r + c) * w - wanted;
    const slope = w - ((r + c) * b) / (r ** 3 * w);
    const next = Math.max(r - off / slope, r / 2);
    if (Math.abs(next - r) < 1e-13 * r) return next * next;
    r = next;
  }
  return r * r;
}

/** Distance of fret n from the theoretical nut face, mm; n = 0 is the nut. @source equal-temperament */
export function fretPlaceMm(scaleMm: number, fret: number): number {
  return scaleMm * (1 - 2 ** (-fret / 12));
}

/** Height of the open string's line over the fret plane at the saddle, mm. */
function saddleHeightMm(s: StrungString, neck: NeckLine, saddleMm: number): number {
  return s.nutHeightMm + ((s.action12Mm - s.nutHeightMm) * (neck.scaleMm + saddleMm)) / (neck.scaleMm / 2);
}

/** Hypotenuse; Math.hypot is several times slower and guards against sizes that no string has. */
const slant = (a: number, b: number): number => Math.sqrt(a * a + b * b);

interface OpenString {
  readonly lengthMm: number;
  readonly tensionN: number;
  readonly saddleZMm: number;
}

function openString(s: StrungString, neck: NeckLine, ends: EndShift): OpenString {
  const saddleZMm = saddleHeightMm(s, neck, ends.saddleMm);
  const lengthMm = slant(neck.scaleMm + ends.saddleMm - ends.nutMm, saddleZMm - s.nutHeightMm);
  return {
    lengthMm,
    saddleZMm,
    tensionN: tensionForHzN(s, lengthMm, s.frequencyHz, neck.endFixityRatio),
  };
}

function errorOfFret(
  s: StrungString,
  neck: NeckLine,
  ends: EndShift,
  open: OpenString,
  fret: number,
): number {
  const here = fretPlaceMm(neck.scaleMm, fret);
  const before = fret === 1 ? ends.nutMm : fretPlaceMm(neck.scaleMm, fret - 1);
  const half = (here - before) / 2;
  const dip = slant(half, neck.pressDepthMm);
  const speaking = slant(neck.scaleMm + ends.saddleMm - here, open.saddleZMm);
  // to the finger: from the nut at once, or over the top of the fret before
  const behind =
    fret === 1
      ? slant(half, s.nutHeightMm + neck.pressDepthMm)
      : slant(before - ends.nutMm, s.nutHeightMm) + dip;
  const stretch = behind + dip + speaking - open.lengthMm;
  const tension = open.tensionN + (s.axialStiffnessN * stretch) / (open.lengthMm + neck.sharedLengthMm);
  const hz = stiffStringHz(s, tension, speaking, neck.endFixityRatio);
  return CENTS_PER_NEPER * Math.log(hz / s.frequencyHz) - 100 * fret;
}

/**
 * How far fretted notes are off equal temperament, open string in tune.
 *
 * @param frets  fret numbers, 1 and up
 * @returns      cents, + sharp, in the order of `frets`
 * @assumes      straight frets of one height; the finger midway behind the fret; the string rests on the fret before; no friction at nut and saddle
 * @source       varieschi-gower-2010
 */
export function fretErrorsCents(
  s: StrungString,
  neck: NeckLine,
  ends: EndShift,
  frets: readonly number[],
): readonly number[] {
  const open = openString(s, neck, ends);
  return frets.map((n) => errorOfFret(s, neck, ends, open, n));
}

/** Tension of the open string in tune, N. @source fletcher-1964 */
export function strungTensionN(s: StrungString, neck: NeckLine, ends: EndShift): number {
  return openString(s, neck, ends).tensionN;
}

/**
 * Setback of the saddle at which fret 12 sounds exactly an octave.
 *
 * @returns mm behind the scale length; undefined when none is found between -5 % and +10 % of the scale
 * @source  varieschi-gower-2010
 */
export function setbackAtOctaveMm(s: StrungString, neck: NeckLine): number | undefined {
  const errorAt = (saddleMm: number): number =>
    fretErrorsCents(s, neck, { saddleMm, nutMm: 0 }, [12])[0] as number;
  return findRoot(errorAt, { low: -0.05 * neck.scaleMm, high: 0.1 * neck.scaleMm, tolerance: 1e-6 });
}

/** Ends that suit all frets best. */
export interface BestEnds extends EndShift {
  /** Root mean square of the fret errors left, cents. */
  readonly rmsCents: number;
}

/**
 * Setback that makes the errors of all frets asked for least, root of mean square.
 *
 * @param frets    fret numbers that count
 * @param startMm  first guess of the setback
 * @returns        ends with the nut in its theoretical place; undefined without frets
 * @source         varieschi-gower-2010
 */
export function setbackLeastSquares(
  s: StrungString,
  neck: NeckLine,
  frets: readonly number[],
  startMm = 0,
): BestEnds | undefined {
  if (frets.length === 0) return undefined;
  const found = minimiseSquares(
    ([saddleMm]) => fretErrorsCents(s, neck, { saddleMm: saddleMm as number, nutMm: 0 }, frets),
    [startMm],
    [0.01],
  );
  return found && { saddleMm: found.values[0] as number, nutMm: 0, rmsCents: found.rms };
}

/**
 * Setback of the saddle and shift of the nut that together make the fret errors least.
 *
 * @param frets    fret numbers that count; at least two
 * @param startMm  first guess of the setback
 * @returns        ends; undefined with fewer than two frets
 * @source         varieschi-gower-2010
 */
export function bothEndsLeastSquares(
  s: StrungString,
  neck: NeckLine,
  frets: readonly number[],
  startMm = 0,
): BestEnds | undefined {
  if (frets.length < 2) return undefined;
  const found = minimiseSquares(
    ([saddleMm, nutMm]) =>
      fretErrorsCents(s, neck, { saddleMm: saddleMm as number, nutMm: nutMm as number }, frets),
    [startMm, 0],
    [0.01, 0.01],
  );
  return (
    found && {
      saddleMm: found.values[0] as number,
      nutMm: found.values[1] as number,
      rmsCents: found.rms,
    }
  );
}
