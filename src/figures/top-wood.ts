import type { Figure } from '../graph/figure.ts';
import { byInstrument } from './inputs.ts';

const memory = 'from memory';
const wood = (
  id: string,
  unit: Figure['unit'],
  label: string,
  value: number,
  source = memory,
): Figure<number> =>
  byInstrument({ id, unit, label, source, values: { steel: value, nylon: value, uke: value } });

/** The board the pattern is drawn for; a measured board takes the place of these in one build. */
export const topWood = {
  along: wood('top.wood.e_along', 'MPa', 'Top wood, modulus along the grain', 11_000),
  across: wood('top.wood.e_across', 'MPa', 'Top wood, modulus across the grain', 850),
  shear: wood('top.wood.shear', 'MPa', 'Top wood, shear modulus', 750),
  poisson: wood(
    'top.wood.poisson',
    'fraction',
    'Top wood, contraction across per stretch along',
    0.372,
    'wood-handbook',
  ),
  density: wood('top.wood.density', 'kg per m3', 'Top wood, density', 420),
};

/** Brace wood beside its modulus. */
export const braceWood = {
  shear: wood('brace.shear', 'MPa', 'Brace wood, shear modulus', 690),
  density: wood('brace.density', 'kg per m3', 'Brace wood, density', 420),
  /** Sitka spruce at 12 %, 10,200 lbf/in2. */
  rupture: wood('brace.rupture', 'MPa', 'Brace wood, modulus of rupture', 70.3, 'wood-handbook'),
  safety: wood(
    'brace.safety_factor',
    'count',
    'Safety factor of a brace: load that stays for years, scatter of the wood, knots and runout',
    4,
    'common practice, no published source',
  ),
};

/** Ends of the braces as they are carved. */
export const braceEnds = {
  height: byInstrument({
    id: 'brace.end.height',
    unit: 'mm',
    label: 'Brace height at its ends, carved',
    source: 'common practice, no published source',
    values: { steel: 3, nylon: 2, uke: 2 },
  }),
  length: byInstrument({
    id: 'brace.end.carved_length',
    unit: 'mm',
    label: 'Length over which a brace is carved down to its end',
    source: 'common practice, no published source',
    values: { steel: 90, nylon: 60, uke: 40 },
  }),
  /** Rounding or peaking a bar leaves two thirds of its area and half of its stiffness. */
  section: byInstrument({
    id: 'brace.carved_section',
    unit: 'fraction',
    label: 'What rounding leaves of a square bar',
    source: 'common practice, no published source',
    values: { steel: 0.6, nylon: 0.6, uke: 0.6 },
  }),
};

/** Figures of the wood of top and braces. */
export const topWoodFigures: readonly Figure[] = [
  ...Object.values(topWood),
  ...Object.values(braceWood),
  ...Object.values(braceEnds),
];
