import { type Finding, finding } from '../quantity/finding.ts';
import { InputError } from '../quantity/input-error.ts';
import type { BendingTest, BoardReadings, BoardSpecies, Reading } from './board-readings.ts';

/** A property with its uncertainty (one standard deviation) and where it comes from. */
export interface Estimate extends Reading {
  readonly from: 'measured' | 'bending' | 'tap' | 'bending and tap' | 'handbook ratio';
}

/** What one board is. */
export interface BoardProperties {
  readonly densityKgPerM3: Estimate;
  readonly eAlongMPa: Estimate;
  readonly eAcrossMPa: Estimate;
  readonly shearMPa: Estimate;
  /** Doubts: values outside the band of the species, readings that disagree. */
  readonly doubts: readonly Finding[];
}

/** Standard gravity, m/s2. */
const gravity = 9.80665;
/** [free-free-beam] 22.373^2 = (2 pi 1.0279)^2 * 12 / 12: E = 0.9464 rho f^2 l^4 / t^2 */
export const beamTapFactor = 0.9464;
/** [twist-of-plate] corrected from the plain energy estimate 0.8224 */
export const twistTapFactor = 0.905;

/** How a property follows from readings: a product of powers, so relative errors add in squares. */
interface Product {
  readonly factor: number;
  readonly parts: readonly (readonly [reading: Reading, power: number])[];
}

function estimate(product: Product, from: Estimate['from']): Estimate {
  let value = product.factor;
  let square = 0;
  for (const [reading, power] of product.parts) {
    value *= reading.value ** power;
    square += ((power * reading.plusMinus) / reading.value) ** 2;
  }
  return { value, plusMinus: value * Math.sqrt(square), from };
}

/**
 * E from a bending test: F L^3 / (4 b t^3 d).
 *
 * @param test         span, weight, deflection
 * @param acrossMm     size of the board square to the span
 * @param thicknessMm  of the board
 * @returns            modulus, MPa
 * @assumes            a strip: a wide board is up to 1 % stiffer (spruce); shear leaves out 0.1 % at a span of 100
 *                     thicknesses; the weight acts along a line across the board
 * @source             beam-theory
 */
export function bendingModulus(test: BendingTest, acrossMm: Reading, thicknessMm: Reading): Estimate {
  return estimate(
    {
      factor: gravity / 1000 / 4,
      parts: [
        [test.weightG, 1],
        [test.spanMm, 3],
        [acrossMm, -1],
        [thicknessMm, -3],
        [test.deflectionMm, -1],
      ],
    },
    'bending',
  );
}

/**
 * E from the lowest note of the free board: 0.9464 rho f^2 l^4 / t^2. The density is taken from the same length, so
 * of the four parts of a slip in length one goes back: 1 % too long a length makes E 3 % too high (4 % at a given
 * density), 1 % in thickness 3 %, 1 % in pitch 2 %.
 *
 * @param alongMm      size in the direction that bends
 * @param acrossMm     the other size
 * @param thicknessMm  thickness
 * @param massG        mass of the board
 * @param tapHz        note
 * @returns            modulus in the direction that bends, MPa
 * @assumes            a strip: the coupling of the two directions is up to 0.5 % in pitch (spruce)
 * @source             free-free-beam
 */
export function tapModulus(
  alongMm: Reading,
  acrossMm: Reading,
  thicknessMm: Reading,
  massG: Reading,
  tapHz: Reading,
): Estimate {
  return estimate(
    {
      // g / mm3 * Hz^2 * mm^2 = 1e-3 kg / 1e-9 m3 / s^2 * 1e-6 m^2 = Pa; to MPa
      factor: beamTapFactor * 1e-6,
      parts: [
        [massG, 1],
        [tapHz, 2],
        [alongMm, 3],
        [acrossMm, -1],
        [thicknessMm, -3],
      ],
    },
    'tap',
  );
}

/**
 * G from the twisting note of the free board: 0.905 rho f^2 (l w)^2 / t^2.
 *
 * @returns shear modulus, MPa
 * @source  twist-of-plate
 */
export function twistModulus(
  lengthMm: Reading,
  widthMm: Reading,
  thicknessMm: Reading,
  massG: Reading,
  tapHz: Reading,
): Estimate {
  return estimate(
    {
      factor: twistTapFactor * 1e-6,
      parts: [
        [massG, 1],
        [tapHz, 2],
        [lengthMm, 1],
        [widthMm, 1],
        [thicknessMm, -3],
      ],
    },
    'tap',
  );
}

/** Bands of a species: density kg/m3, moduli GPa. */
interface SpeciesBands {
  readonly densityKgPerM3: readonly [number, number];
  readonly eAlongMPa: readonly [number, number];
  readonly eAcrossMPa: readonly [number, number];
  readonly shearMPa: readonly [number, number];
  /** E across and G over E along for quartered boards [wood-handbook] Table 5-1. */
  readonly acrossRatio: number;
  readonly shearRatio: number;
  readonly source: string;
}

/** Shop bands from memory; ratios of Sitka spruce and western redcedar from the Wood Handbook, Table 5-1. */
export const speciesBands: Readonly<Record<BoardSpecies, SpeciesBands | undefined>> = {
  spruce: {
    densityKgPerM3: [380, 460],
    eAlongMPa: [9000, 14000],
    eAcrossMPa: [500, 1100],
    shearMPa: [600, 1000],
    acrossRatio: 0.078,
    shearRatio: 0.064,
    source: 'from memory',
  },
  cedar: {
    densityKgPerM3: [330, 390],
    eAlongMPa: [7000, 10000],
    eAcrossMPa: [500, 800],
    shearMPa: [500, 1000],
    acrossRatio: 0.081,
    shearRatio: 0.087,
    source: 'from memory',
  },
  other: undefined,
};

/** A ratio from the handbook says nothing better than this about one board. */
const ratioFrac = 0.3;
/** No wood lies outside these. */
const anyWood = {
  densityKgPerM3: [80, 1400],
  eAlongMPa: [2000, 35000],
  eAcrossMPa: [50, 5000],
  shearMPa: [50, 4000],
} as const;

/**
 * Density and moduli of a measured board.
 *
 * @param readings  sizes, mass and at least one of: bending along, tap note along
 * @returns         properties with uncertainty; what was not measured follows from handbook ratios, marked so
 * @throws InputError when a reading is not above 0, when nothing tells E along, or when no wood could give a value
 * @source          beam-theory
 */
export function boardProperties(readings: BoardReadings): BoardProperties {
  checkReadings(readings);
  const { lengthMm, widthMm, thicknessMm, massG } = readings;
  const densityKgPerM3 = estimate(
    {
      factor: 1e6,
      parts: [
        [massG, 1],
        [lengthMm, -1],
        [widthMm, -1],
        [thicknessMm, -1],
      ],
    },
    'measured',
  );
  const doubts: Finding[] = [];
  const along = joined(
    'E along',
    readings.bending && bendingModulus(readings.bending, widthMm, thicknessMm),
    readings.tapAlongHz && tapModulus(lengthMm, widthMm, thicknessMm, massG, readings.tapAlongHz),
    doubts,
  );
  if (!along)
    throw new InputError(
      'board-no-stiffness',
      'The board has neither a bending test nor a tap note along the grain; measure one of them.',
      'bending',
    );
  const bands = speciesBands[readings.species] ?? speciesBands.spruce!;
  const eAcrossMPa =
    joined(
      'E across',
      readings.bendingAcross && bendingModulus(readings.bendingAcross, lengthMm, thicknessMm),
      readings.tapAcrossHz && tapModulus(widthMm, lengthMm, thicknessMm, massG, readings.tapAcrossHz),
      doubts,
    ) ?? byRatio(along, bands.acrossRatio);
  const shearMPa = readings.tapTwistHz
    ? twistModulus(lengthMm, widthMm, thicknessMm, massG, readings.tapTwistHz)
    : byRatio(along, bands.shearRatio);
  const values = { densityKgPerM3, eAlongMPa: along, eAcrossMPa, shearMPa };
  refuseNoWood(values);
  return { ...values, doubts: [...doubts, ...outsideBands(values, readings.species)] };
}

function byRatio(along: Estimate, ratio: number): Estimate {
  const value = along.value * ratio;
  return {
    value,
    plusMinus: value * Math.hypot(ratioFrac, along.plusMinus / along.value),
    from: 'handbook ratio',
  };
}

function checkReadings(readings: BoardReadings): void {
  const entries: [string, Reading | undefined][] = [
    ['length_mm', readings.lengthMm],
    ['width_mm', readings.widthMm],
    ['thickness_mm', readings.thicknessMm],
    ['mass_g', readings.massG],
    ['taps.along_hz', readings.tapAlongHz],
    ['taps.across_hz', readings.tapAcrossHz],
    ['taps.twist_hz', readings.tapTwistHz],
  ];
  for (const [name, test] of [
    ['bending', readings.bending],
    ['bending_across', readings.bendingAcross],
  ] as const)
    if (test)
      entries.push(
        [`${name}.span_mm`, test.spanMm],
        [`${name}.weight_g`, test.weightG],
        [`${name}.deflection_mm`, test.deflectionMm],
      );
  for (const [name, reading] of entries) {
    if (!reading) continue;
    if (!Number.isFinite(reading.value) || reading.value <= 0)
      throw new InputError(
        'board-reading',
        `${name} is ${reading.value}; it must be above 0, measure it again.`,
        name,
      );
    if (!Number.isFinite(reading.plusMinus) || reading.plusMinus < 0)
      throw new InputError(
        'board-reading',
        `plus_minus of ${name} is ${reading.plusMinus}; it must be 0 or more.`,
        name,
      );
  }
  checkSpan('bending.span_mm', readings.bending, readings.lengthMm, 'length_mm');
  checkSpan('bending_across.span_mm', readings.bendingAcross, readings.widthMm, 'width_mm');
}

function checkSpan(name: string, test: BendingTest | undefined, size: Reading, sizeName: string): void {
  if (test && test.spanMm.value > size.value)
    throw new InputError(
      'board-span',
      `${name} is ${test.spanMm.value} mm, more than ${sizeName} of ${size.value} mm; the rests must lie under the board.`,
      name,
    );
}

/** Weighted mean of what was measured both ways; a doubt when they lie more than two standard deviations apart. */
function joined(
  what: string,
  bending: Estimate | undefined,
  tap: Estimate | undefined,
  doubts: Finding[],
): Estimate | undefined {
  if (!bending || !tap) return bending ?? tap;
  const apart = Math.abs(bending.value - tap.value);
  const allowed = 2 * Math.hypot(bending.plusMinus, tap.plusMinus);
  if (apart > allowed)
    doubts.push(
      finding({
        code: 'board-readings-disagree',
        level: 'doubtful',
        got: Math.round(apart),
        limit: Math.round(allowed),
        unit: 'MPa',
        text: `${what} is ${gpa(bending.value)} by bending and ${gpa(tap.value)} by the tap note, more apart than their uncertainty of ${gpa(allowed)} explains; measure thickness and pitch again.`,
        source: 'arithmetic',
      }),
    );
  const weight = (e: Estimate) => 1 / Math.max(e.plusMinus, 1e-9 * e.value) ** 2;
  const [a, b] = [weight(bending), weight(tap)];
  return {
    value: (a * bending.value + b * tap.value) / (a + b),
    // both ways share the thickness, so two readings are not much better than the better one
    plusMinus: Math.max(Math.min(bending.plusMinus, tap.plusMinus), apart / 2),
    from: 'bending and tap',
  };
}

function gpa(valueMPa: number): string {
  return `${(valueMPa / 1000).toFixed(2)} GPa`;
}

type Values = Pick<BoardProperties, 'densityKgPerM3' | 'eAlongMPa' | 'eAcrossMPa' | 'shearMPa'>;

const labels = {
  densityKgPerM3: ['Density', 'kg/m3', 'size and mass'],
  eAlongMPa: ['E along', 'MPa', 'bending test or tap note along'],
  eAcrossMPa: ['E across', 'MPa', 'bending test or tap note across'],
  shearMPa: ['Shear modulus', 'MPa', 'twisting note'],
} as const;
const keys = ['densityKgPerM3', 'eAlongMPa', 'eAcrossMPa', 'shearMPa'] as const;

function refuseNoWood(values: Values): void {
  for (const key of keys) {
    const [label, unit, origin] = labels[key];
    const [low, high] = anyWood[key];
    const { value } = values[key];
    if (value < low || value > high)
      throw new InputError(
        'board-no-wood',
        `${label} comes out at ${value.toPrecision(4)} ${unit}, outside any wood (${low} to ${high}); measure ${origin} again.`,
        key,
      );
  }
}

function outsideBands(values: Values, species: BoardSpecies): Finding[] {
  const bands = speciesBands[species];
  if (!bands) return [];
  return keys.flatMap((key): Finding[] => {
    const [label, unit, origin] = labels[key];
    const [low, high] = bands[key];
    const { value, from } = values[key];
    if ((value >= low && value <= high) || from === 'handbook ratio') return [];
    return [
      finding({
        code: 'board-outside-band',
        level: 'doubtful',
        got: Math.round(value),
        limit: value < low ? low : high,
        unit,
        text: `${label} is ${Math.round(value)} ${unit}, outside the usual ${low} to ${high} for ${species}; measure ${origin} again, or take it as this board's own.`,
        source: bands.source,
      }),
    ];
  });
}
