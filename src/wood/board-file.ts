import { InputError } from '../quantity/input-error.ts';
import type { BendingTest, BoardReadings, BoardSpecies, Reading } from './board-readings.ts';
import type { ThickMaterial, ThicknessLimits } from './board-thickness.ts';

/** First member of a board file. */
export const boardFormat = 'bracewright-board/1';

/** A board file: readings, and the pattern's reference board when it is given. */
export interface BoardFile {
  readonly name: string;
  readonly readings: BoardReadings;
  readonly reference: ThickMaterial;
  readonly limits: ThicknessLimits;
  readonly ringAngleDeg: number;
  readonly runoutDeg: number;
}

/** How far readings of a class may be off when the file does not say (one standard deviation). */
const usualPlusMinus: Readonly<Record<string, (value: number) => number>> = {
  length_mm: () => 0.5,
  width_mm: () => 0.5,
  thickness_mm: () => 0.03,
  mass_g: () => 1,
  span_mm: () => 1,
  weight_g: (value) => 0.005 * value,
  deflection_mm: () => 0.05,
  along_hz: (value) => 0.01 * value,
  across_hz: (value) => 0.01 * value,
  twist_hz: (value) => 0.01 * value,
};

/** Members of a board file that tell the board of the pattern. */
export type ReferenceMembers = Readonly<Record<keyof typeof usualReference, number>>;

/** The board the starting patterns are drawn for. */
const usualReference = {
  thickness_mm: 2.8,
  e_along_gpa: 11,
  e_across_gpa: 0.85,
  shear_gpa: 0.75,
  density_kg_m3: 420,
  low_mm: 2.5,
  high_mm: 3.1,
};
/** [wood-handbook] Table 5-2, Sitka spruce */
export const usualPoissonAlongAcross = 0.372;

type Members = Readonly<Record<string, unknown>>;

const known = {
  '': [
    'format',
    'name',
    'species',
    'length_mm',
    'width_mm',
    'thickness_mm',
    'mass_g',
    'bending',
    'bending_across',
    'taps',
    'plus_minus',
    'reference',
    'ring_angle_deg',
    'runout_deg',
  ],
  bending: ['span_mm', 'weight_g', 'deflection_mm'],
  bending_across: ['span_mm', 'weight_g', 'deflection_mm'],
  taps: ['along_hz', 'across_hz', 'twist_hz'],
  plus_minus: Object.keys(usualPlusMinus),
  reference: Object.keys(usualReference),
} as const;

/**
 * A board file from anything that was read.
 *
 * @param value   the parsed YAML or JSON
 * @param drawn   the board of the pattern, for what the file does not say of it
 * @returns       readings with their uncertainty, reference board, limits, grain angles
 * @throws InputError naming the member that is wrong
 * @source       common practice, no published source
 */
export function readBoardFile(value: unknown, drawn: ReferenceMembers = usualReference): BoardFile {
  const root = members(value, '');
  if (root['format'] !== boardFormat)
    refuse('format', `is ${show(root['format'])}; a board file begins with "format: ${boardFormat}".`);
  const off = root['plus_minus'] === undefined ? {} : members(root['plus_minus'], 'plus_minus');
  const reading = (from: Members, path: string, key: string): Reading => {
    const number = numberOf(from[key], path + key);
    const plusMinus =
      off[key] === undefined ? usualPlusMinus[key]!(number) : numberOf(off[key], `plus_minus.${key}`);
    return { value: number, plusMinus };
  };
  const test = (name: 'bending' | 'bending_across'): BendingTest | undefined => {
    if (root[name] === undefined) return undefined;
    const from = members(root[name], name);
    return {
      spanMm: reading(from, `${name}.`, 'span_mm'),
      weightG: reading(from, `${name}.`, 'weight_g'),
      deflectionMm: reading(from, `${name}.`, 'deflection_mm'),
    };
  };
  const taps = root['taps'] === undefined ? {} : members(root['taps'], 'taps');
  const tap = (key: string): Reading | undefined =>
    taps[key] === undefined ? undefined : reading(taps, 'taps.', key);
  const readings = withoutMissing({
    lengthMm: reading(root, '', 'length_mm'),
    widthMm: reading(root, '', 'width_mm'),
    thicknessMm: reading(root, '', 'thickness_mm'),
    massG: reading(root, '', 'mass_g'),
    bending: test('bending'),
    bendingAcross: test('bending_across'),
    tapAlongHz: tap('along_hz'),
    tapAcrossHz: tap('across_hz'),
    tapTwistHz: tap('twist_hz'),
    species: speciesOf(root['species']),
  });
  return {
    name: root['name'] === undefined ? 'board' : String(root['name']),
    readings,
    ...referenceOf(root['reference'], drawn),
    ringAngleDeg: angleOf(root['ring_angle_deg'], 'ring_angle_deg'),
    runoutDeg: angleOf(root['runout_deg'], 'runout_deg'),
  };
}

function withoutMissing(
  readings: { [K in keyof BoardReadings]-?: BoardReadings[K] | undefined },
): BoardReadings {
  return Object.fromEntries(
    Object.entries(readings).filter(([, v]) => v !== undefined),
  ) as unknown as BoardReadings;
}

function refuse(member: string, sentence: string): never {
  throw new InputError('board-file', `${member} ${sentence}`, member);
}

function show(value: unknown): string {
  return value === undefined ? 'missing' : JSON.stringify(value);
}

function members(value: unknown, path: keyof typeof known): Members {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    refuse(path === '' ? 'The board file' : path, `is ${show(value)}; it must have named members.`);
  const allowed: readonly string[] = known[path];
  for (const key of Object.keys(value))
    if (!allowed.includes(key))
      refuse(
        path === '' ? key : `${path}.${key}`,
        `is not known here; the members are ${allowed.join(', ')}.`,
      );
  return value as Members;
}

function numberOf(value: unknown, member: string): number {
  if (typeof value !== 'number' || !Number.isFinite(value))
    refuse(member, `is ${show(value)}; it must be a number.`);
  return value;
}

function positiveOf(value: unknown, member: string): number {
  const number = numberOf(value, member);
  if (number <= 0) refuse(member, `is ${number}; it must be above 0.`);
  return number;
}

function speciesOf(value: unknown): BoardSpecies {
  if (value === undefined) return 'spruce';
  if (value === 'spruce' || value === 'cedar' || value === 'other') return value;
  return refuse('species', `is ${show(value)}; it must be spruce, cedar or other.`);
}

function angleOf(value: unknown, member: string): number {
  if (value === undefined) return 0;
  const angle = numberOf(value, member);
  if (angle < 0 || angle > 90) refuse(member, `is ${angle}; an angle must be from 0 to 90 degrees.`);
  return angle;
}

function referenceOf(
  value: unknown,
  drawn: ReferenceMembers,
): { reference: ThickMaterial; limits: ThicknessLimits } {
  const given = value === undefined ? {} : members(value, 'reference');
  const take = (key: keyof typeof usualReference): number =>
    given[key] === undefined ? drawn[key] : positiveOf(given[key], `reference.${key}`);
  const limits = { lowMm: take('low_mm'), highMm: take('high_mm') };
  if (limits.lowMm > limits.highMm)
    refuse(
      'reference.low_mm',
      `is ${limits.lowMm}, above high_mm of ${limits.highMm}; exchange or correct them.`,
    );
  return {
    reference: {
      thicknessMm: take('thickness_mm'),
      material: {
        eAlongMPa: 1000 * take('e_along_gpa'),
        eAcrossMPa: 1000 * take('e_across_gpa'),
        shearMPa: 1000 * take('shear_gpa'),
        poissonAlongAcross: usualPoissonAlongAcross,
        densityKgPerM3: take('density_kg_m3'),
      },
    },
    limits,
  };
}
