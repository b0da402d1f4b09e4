import { type Figure, figure, inputFigure } from '../graph/figure.ts';
import { inputTable, type NumberInputId } from '../pattern/input-table.ts';
import type {
  BarSpec,
  Instrument,
  Pattern,
  PatternPoint,
  StockSpec,
  StringSpec,
} from '../pattern/pattern.ts';

const typed = 'common practice, no published source';

const numberFigures = new Map<string, Figure<number>>(
  inputTable.map((i) => [
    i.id,
    inputFigure<number>({ id: i.id, unit: i.unit, label: i.label, source: typed }),
  ]),
);

/**
 * The figure of a number the pattern gives. Absent where the pattern does not give it.
 *
 * @param id  id in `src/pattern/input-table.ts`
 * @source    common practice, no published source
 */
export function input(id: NumberInputId): Figure<number> {
  return numberFigures.get(id) as Figure<number>;
}

/** Which of the three instruments the pattern is. */
export const instrument = inputFigure<Instrument>({
  id: 'instrument',
  unit: 'text',
  label: 'Instrument',
  source: typed,
});
/** Right or left handed. Outline and fret places stay; brace plan, bridge slant, nut order, side dots and tuner holes mirror. */
export const handed = inputFigure<'right' | 'left'>({
  id: 'handed',
  unit: 'text',
  label: 'Handed',
  source: typed,
});
/** Brace scheme of the top. */
export const braceScheme = inputFigure<'x' | 'fan' | 'ladder'>({
  id: 'brace.scheme',
  unit: 'text',
  label: 'Brace scheme',
  source: typed,
});
/** The strings, treble to bass. */
export const strings = inputFigure<readonly StringSpec[]>({
  id: 'strings',
  unit: 'shape',
  label: 'Strings',
  source: typed,
});
/** Bars of the top that the pattern gives one by one (not the X legs). */
export const topBarSpecs = inputFigure<readonly BarSpec[]>({
  id: 'brace.bars',
  unit: 'shape',
  label: 'Top bars',
  source: typed,
});
/** Bars of the back. */
export const backBarSpecs = inputFigure<readonly BarSpec[]>({
  id: 'back.bars',
  unit: 'shape',
  label: 'Back bars',
  source: typed,
});
/** Outline of the bridge plate. */
export const bridgePlateOutline = inputFigure<readonly PatternPoint[]>({
  id: 'bridge_plate.outline',
  unit: 'shape',
  label: 'Bridge plate outline',
  source: typed,
});
/** How the bridge plate is fitted. */
export const bridgePlateFitted = inputFigure<'one-piece' | 'between-struts' | 'none'>({
  id: 'bridge_plate.fitted',
  unit: 'text',
  label: 'Bridge plate fitted',
  source: typed,
});
/** Rough wood. */
export const stockPieces = inputFigure<readonly StockSpec[]>({
  id: 'stock',
  unit: 'shape',
  label: 'Rough wood',
  source: typed,
});
/** The teacher's own outline, measured half widths; absent when the few numbers draw it. */
export const ownOutline = inputFigure<readonly PatternPoint[]>({
  id: 'body.own_outline',
  unit: 'shape',
  label: 'Own outline',
  source: typed,
});

/**
 * The inputs of a pattern as an evaluation wants them.
 *
 * @returns values by input id; what the pattern does not give is left out
 * @source  arithmetic
 */
export function givenInputs(pattern: Pattern): ReadonlyMap<string, unknown> {
  const values = new Map<string, unknown>(pattern.numbers);
  values.set(instrument.id, pattern.instrument);
  values.set(handed.id, pattern.handed);
  values.set(braceScheme.id, pattern.scheme);
  values.set(strings.id, pattern.strings);
  values.set(topBarSpecs.id, pattern.topBars);
  values.set(backBarSpecs.id, pattern.backBars);
  values.set(bridgePlateFitted.id, pattern.bridgePlate.fitted);
  if (pattern.bridgePlate.fitted !== 'none') values.set(bridgePlateOutline.id, pattern.bridgePlate.outline);
  values.set(stockPieces.id, pattern.stock);
  if (pattern.ownOutline) values.set(ownOutline.id, pattern.ownOutline);
  return values;
}

/**
 * A limit that the trade gives per instrument.
 *
 * @source common practice, no published source
 */
export function byInstrument(spec: {
  readonly id: string;
  readonly unit: Figure['unit'];
  readonly label: string;
  readonly source: string;
  readonly values: Readonly<Record<Instrument, number>>;
}): Figure<number> {
  const { id, unit, label, source, values } = spec;
  return figure({
    id,
    unit,
    label,
    formula: 'by instrument',
    source,
    from: { kind: instrument },
    compute: ({ kind }) => values[kind],
  });
}
