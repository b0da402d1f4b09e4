import { type Figure, figure } from '../graph/figure.ts';
import { braceSegments } from './braces.ts';
import { byInstrument, input } from './inputs.ts';

/** Modulus of brace wood along the grain. */
export const braceModulus: Figure<number> = byInstrument({
  id: 'brace.modulus',
  unit: 'MPa',
  label: 'Modulus of brace wood along the grain',
  source: 'from memory',
  values: { steel: 10_800, nylon: 10_800, uke: 10_800 },
});

/** Plate that works with a bar, in bar widths. */
const PLATE_STRIP_WIDTHS = 5;

/**
 * Bending stiffness of a bar about its own middle: E w h^3 / 12.
 *
 * @returns N m2
 * @source  beam-theory
 */
export function barStiffnessNm2(modulusMPa: number, widthMm: number, heightMm: number): number {
  return (modulusMPa * widthMm * heightMm ** 3) / 12 / 1e6;
}

/**
 * Bending stiffness of a bar glued to a strip of plate of the same modulus, about the common middle: both own
 * stiffnesses plus the parallel-axis term.
 *
 * @param plateWidthMm  strip of plate that works with the bar
 * @returns             N m2
 * @source              beam-theory
 */
export function barOnPlateStiffnessNm2(
  modulusMPa: number,
  bar: { readonly widthMm: number; readonly heightMm: number },
  plate: { readonly widthMm: number; readonly thicknessMm: number },
): number {
  const barMm2 = bar.widthMm * bar.heightMm;
  const plateMm2 = plate.widthMm * plate.thicknessMm;
  const apartMm = (bar.heightMm + plate.thicknessMm) / 2;
  const parallel = ((barMm2 * plateMm2) / (barMm2 + plateMm2)) * apartMm ** 2;
  return (
    barStiffnessNm2(modulusMPa, bar.widthMm, bar.heightMm) +
    barStiffnessNm2(modulusMPa, plate.widthMm, plate.thicknessMm) +
    (modulusMPa * parallel) / 1e6
  );
}

/** One bar and its bending stiffness. */
export interface BarStiffness {
  readonly id: string;
  readonly stiffnessNm2: number;
}

const stiffnessMembers = (list: readonly BarStiffness[]) =>
  list.map((b) => ({ key: b.id, label: `Stiffness of ${b.id}`, value: b.stiffnessNm2 }));

/** Stiffness of each bar of the top by itself. */
export const barStiffness: Figure<readonly BarStiffness[]> = figure({
  id: 'brace.stiffness',
  unit: 'N m2',
  label: 'Stiffness of each bar by itself',
  formula: 'modulus x width x height cubed / 12',
  source: 'beam-theory',
  from: { segments: braceSegments, modulusMPa: braceModulus },
  compute: ({ segments, modulusMPa }) =>
    segments.map((s) => ({ id: s.id, stiffnessNm2: barStiffnessNm2(modulusMPa, s.widthMm, s.heightMm) })),
  members: stiffnessMembers,
});

/** Stiffness of each bar of the top with the plate under it. */
export const barOnPlateStiffness: Figure<readonly BarStiffness[]> = figure({
  id: 'brace.stiffness_on_plate',
  unit: 'N m2',
  label: 'Stiffness of each bar with the plate under it',
  formula: 'bar and a strip of the final top five bar widths wide, same modulus, about their common middle',
  source: 'beam-theory',
  from: { segments: braceSegments, modulusMPa: braceModulus, topMm: input('top.thickness.final') },
  compute: ({ segments, modulusMPa, topMm }) =>
    segments.map((s) => ({
      id: s.id,
      stiffnessNm2: barOnPlateStiffnessNm2(modulusMPa, s, {
        widthMm: PLATE_STRIP_WIDTHS * s.widthMm,
        thicknessMm: topMm,
      }),
    })),
  members: stiffnessMembers,
});

/** Figures of the stiffness of bars. */
export const braceStiffnessFigures: readonly Figure[] = [braceModulus, barStiffness, barOnPlateStiffness];
