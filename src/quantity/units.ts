/** Kinds of quantity a field can hold. */
export type QuantityKind =
  | 'length'
  | 'angle'
  | 'force'
  | 'mass'
  | 'line-mass'
  | 'density'
  | 'stress'
  | 'frequency'
  | 'interval'
  | 'temperature'
  | 'fraction'
  | 'duration'
  | 'area'
  | 'bending-stiffness'
  | 'count';

/** How one written unit becomes the base unit: base = written x factor + offset. */
export interface UnitSize {
  readonly factor: number;
  readonly offset?: number;
}

/** Millimetres in an inch, exact. @source inch-1959 */
export const MM_PER_IN = 25.4;
/** Kilograms in a pound, exact by the same agreement. @source inch-1959 */
export const KG_PER_LB = 0.45359237;
/** Standard acceleration of fall, m/s2, exact by definition (3rd General Conference on Weights and Measures, 1901). */
export const STANDARD_GRAVITY_M_PER_S2 = 9.80665;

const N_PER_LBF = KG_PER_LB * STANDARD_GRAVITY_M_PER_S2;
const MPA_PER_PSI = N_PER_LBF / (MM_PER_IN * MM_PER_IN);
const KG_PER_M3_PER_LB_PER_FT3 = KG_PER_LB / 0.3048 ** 3;
const G_PER_M_PER_LB_PER_IN = (KG_PER_LB * 1000) / 0.0254;

interface KindSpec {
  /** Unit that values are given in. */
  readonly base: string;
  /** What a person calls it: "no length". */
  readonly noun: string;
  /** An example to copy. */
  readonly example: string;
  /** Written forms in small letters, the usual one of each size first. */
  readonly units: Readonly<Record<string, UnitSize>>;
}

/** Every kind of quantity with its base unit and the units people write. */
export const KINDS: Readonly<Record<QuantityKind, KindSpec>> = {
  length: {
    base: 'mm',
    noun: 'a length',
    example: '480 mm or 18 57/64 in',
    units: {
      mm: { factor: 1 },
      in: { factor: MM_PER_IN },
      inch: { factor: MM_PER_IN },
      inches: { factor: MM_PER_IN },
      '"': { factor: MM_PER_IN },
      ft: { factor: 12 * MM_PER_IN },
      foot: { factor: 12 * MM_PER_IN },
      feet: { factor: 12 * MM_PER_IN },
      "'": { factor: 12 * MM_PER_IN },
      cm: { factor: 10 },
      m: { factor: 1000 },
    },
  },
  angle: {
    base: 'deg',
    noun: 'an angle',
    example: '14 deg',
    units: {
      deg: { factor: 1 },
      degree: { factor: 1 },
      degrees: { factor: 1 },
      '°': { factor: 1 },
      rad: { factor: 180 / Math.PI },
    },
  },
  force: {
    base: 'N',
    noun: 'a force',
    example: '78 N or 17.5 lbf',
    units: {
      n: { factor: 1 },
      kn: { factor: 1000 },
      lbf: { factor: N_PER_LBF },
      lb: { factor: N_PER_LBF },
      kgf: { factor: STANDARD_GRAVITY_M_PER_S2 },
      kp: { factor: STANDARD_GRAVITY_M_PER_S2 },
    },
  },
  mass: {
    base: 'kg',
    noun: 'a mass',
    example: '0.18 kg or 180 g',
    units: {
      kg: { factor: 1 },
      g: { factor: 0.001 },
      lb: { factor: KG_PER_LB },
      lbs: { factor: KG_PER_LB },
      oz: { factor: KG_PER_LB / 16 },
    },
  },
  'line-mass': {
    base: 'g/m',
    noun: 'a mass per length',
    example: '5.6 g/m or 0.000314 lb/in',
    units: {
      'g/m': { factor: 1 },
      'kg/m': { factor: 1000 },
      'mg/m': { factor: 0.001 },
      'lb/in': { factor: G_PER_M_PER_LB_PER_IN },
    },
  },
  density: {
    base: 'kg/m3',
    noun: 'a density',
    example: '420 kg/m3',
    units: {
      'kg/m3': { factor: 1 },
      'kg/m³': { factor: 1 },
      'g/cm3': { factor: 1000 },
      'g/cm³': { factor: 1000 },
      'lb/ft3': { factor: KG_PER_M3_PER_LB_PER_FT3 },
    },
  },
  stress: {
    base: 'MPa',
    noun: 'a stress or modulus',
    example: '12000 MPa or 12 GPa',
    units: {
      mpa: { factor: 1 },
      gpa: { factor: 1000 },
      'n/mm2': { factor: 1 },
      'n/mm²': { factor: 1 },
      psi: { factor: MPA_PER_PSI },
    },
  },
  frequency: {
    base: 'Hz',
    noun: 'a frequency',
    example: '440 Hz',
    units: { hz: { factor: 1 }, khz: { factor: 1000 } },
  },
  interval: {
    base: 'cents',
    noun: 'an interval',
    example: '5 cents',
    units: { cents: { factor: 1 }, cent: { factor: 1 } },
  },
  temperature: {
    base: 'C',
    noun: 'a temperature',
    example: '21 C or 70 F',
    units: {
      c: { factor: 1 },
      '°c': { factor: 1 },
      degc: { factor: 1 },
      f: { factor: 5 / 9, offset: -160 / 9 },
      '°f': { factor: 5 / 9, offset: -160 / 9 },
      degf: { factor: 5 / 9, offset: -160 / 9 },
      k: { factor: 1, offset: -273.15 },
    },
  },
  fraction: {
    base: 'fraction',
    noun: 'a share',
    example: '45 %',
    units: {
      fraction: { factor: 1 },
      '%': { factor: 0.01 },
      percent: { factor: 0.01 },
    },
  },
  duration: {
    base: 'min',
    noun: 'a time',
    example: '90 min or 1 h 30 min',
    units: {
      min: { factor: 1 },
      minutes: { factor: 1 },
      minute: { factor: 1 },
      h: { factor: 60 },
      hour: { factor: 60 },
      hours: { factor: 60 },
      d: { factor: 1440 },
      day: { factor: 1440 },
      days: { factor: 1440 },
      week: { factor: 10080 },
      weeks: { factor: 10080 },
      s: { factor: 1 / 60 },
    },
  },
  area: {
    base: 'cm2',
    noun: 'an area',
    example: '400 cm2',
    units: { cm2: { factor: 1 }, mm2: { factor: 0.01 }, m2: { factor: 10_000 }, in2: { factor: 6.4516 } },
  },
  'bending-stiffness': {
    base: 'Nmm2',
    noun: 'a bending stiffness',
    example: '85 Nmm2',
    units: { nmm2: { factor: 1 }, nm2: { factor: 1e6 } },
  },
  count: {
    base: 'count',
    noun: 'a number',
    example: '6',
    units: {},
  },
};

/**
 * The size of a written unit.
 *
 * @param kind  what is measured
 * @param unit  as written, large or small letters
 * @returns     factor and offset to the base unit; undefined when the kind has no such unit
 * @source      inch-1959
 */
export function unitSize(kind: QuantityKind, unit: string): UnitSize | undefined {
  const key = unit.toLowerCase();
  const units = KINDS[kind].units;
  if (Object.hasOwn(units, key)) return units[key];
  return key === KINDS[kind].base.toLowerCase() ? { factor: 1 } : undefined;
}

/** A unit as it stands behind a number, a space before it; a count or a fraction has none. */
export const unitWord = (unit: string): string => (unit === 'count' || unit === 'fraction' ? '' : ` ${unit}`);

/** A value of one unit in the base unit. @source arithmetic */
export function toBase(value: number, size: UnitSize): number {
  return value * size.factor + (size.offset ?? 0);
}

/** A value of the base unit in another one. @source arithmetic */
export function fromBase(value: number, size: UnitSize): number {
  return (value - (size.offset ?? 0)) / size.factor;
}
