import type { Figure } from '../graph/figure.ts';
import { inputFigure } from '../graph/figure.ts';
import { byInstrument } from './inputs.ts';

type Values = { readonly steel: number; readonly nylon: number; readonly uke: number };
type Triple = readonly [steel: number, nylon: number, uke: number];
const values = ([steel, nylon, uke]: Triple): Values => ({ steel, nylon, uke });

/** Two ends of a usual band, ids `<id>.low` and `<id>.high`. */
function band(
  id: string,
  unit: Figure['unit'],
  label: string,
  source: string,
  low: Triple,
  high: Triple,
): readonly [Figure<number>, Figure<number>] {
  return [
    byInstrument({ id: `${id}.low`, unit, label: `${label}, usual from`, source, values: values(low) }),
    byInstrument({ id: `${id}.high`, unit, label: `${label}, usual to`, source, values: values(high) }),
  ];
}

const memory = 'from memory';
const tap = (id: string, label: string, low: Triple, high: Triple) =>
  band(`top.tap.${id}`, 'Hz', label, memory, low, high);

/** Main air tone of the finished box. */
export const airBand = band('tone.air', 'Hz', 'Main air tone', memory, [95, 90, 180], [125, 110, 220]);
/** Main tone of the finished top. */
export const topBand = band('tone.top', 'Hz', 'Main top tone', memory, [180, 170, 270], [230, 220, 350]);

/** Dry film of the finish before it is levelled. */
export const filmBand = band(
  'finish.film',
  'mm',
  'Dry film before levelling',
  'common practice, no published source',
  [0.08, 0.03, 0.05],
  [0.15, 0.08, 0.08],
);

/** A mean over this shop's own builds of the pattern: typed or taken from the record, unknown until there are five. */
function ofShop(id: string, unit: 'mm' | 'Hz', label: string): Figure<number> {
  return inputFigure<number>({ id, unit, label, source: 'common practice, no published source' });
}

/** Usual bands that readings are held against. */
export const bandFigures: readonly Figure[] = [
  tap('half.along', 'Tap tone of the half plate along', [73, 70, 135], [91, 87, 168]),
  tap('half.across', 'Tap tone of the half plate across', [115, 110, 218], [170, 162, 322]),
  tap('half.twist', 'Tap tone of the half plate in twist', [52, 50, 97], [67, 64, 125]),
  tap('joined.along', 'Tap tone of the joined plate along', [55, 48, 96], [72, 63, 126]),
  tap('joined.across', 'Tap tone of the joined plate across', [22, 19, 39], [35, 31, 63]),
  tap('joined.twist', 'Tap tone of the joined plate in twist', [19, 17, 34], [26, 23, 46]),
  band('top.braced_mass', 'g', 'Braced top, mass', memory, [230, 140, 55], [290, 190, 80]),
  band('back.braced_mass', 'g', 'Braced back, mass', memory, [290, 250, 70], [380, 330, 110]),
  airBand,
  topBand,
  filmBand,
  [
    ofShop('shop.top_deflection', 'mm', 'Braced top under 20 N at the centre, mean of this shop'),
    ofShop('shop.braced_top_tone', 'Hz', 'Tap tone of the braced top, mean of this shop'),
    ofShop('shop.top_tone_with_rim', 'Hz', 'Tap tone of the top on its rim, mean of this shop'),
  ],
].flat();
