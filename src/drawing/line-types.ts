/** The layers of every drawing, bottom first. Sinks draw them in this order; inside a layer the order given stays. */
export const LAYER_NAMES = [
  'grid',
  'ghost',
  'hidden',
  'channel',
  'visible',
  'cut',
  'centre',
  'dimension',
  'accent',
  'text',
] as const;

export type LayerName = (typeof LAYER_NAMES)[number];

/** Names of the line types, as DXF knows them. */
export type LineTypeName = 'CONTINUOUS' | 'DASHED' | 'CENTRE' | 'PHANTOM';

/** How the lines of one layer look, on the screen and on paper. */
export interface LayerStyle {
  /** What stands on the layer, in plain words (shown where layers are switched). */
  readonly label: string;
  readonly lineType: LineTypeName;
  /** Line width on a screen, CSS px. */
  readonly screenPx: number;
  /** Line width on paper, mm; undefined: the layer is not printed. */
  readonly printMm: number | undefined;
  /** Ink on paper: black, or one of the two greys of print. */
  readonly printInk: InkName;
}

/** Print knows black, white and two greys; nothing else. */
export type InkName = 'black' | 'grey' | 'pale' | 'white';

/** Grey values of the print inks in lines and words, 0 black to 1 white. */
export const INK_GREY_FRAC: Readonly<Record<InkName, number>> = {
  black: 0,
  grey: 0.45,
  pale: 0.88,
  white: 1,
};

/** The same in filled areas: 16 % and 7 % of ink, so that lines and words on them stay readable. */
export const FILL_GREY_FRAC: Readonly<Record<InkName, number>> = {
  black: 0,
  grey: 0.84,
  pale: 0.93,
  white: 1,
};

/** Dashes and gaps by line type, CSS px on a screen. Line types in the spirit of ISO 128 (standard named from memory). */
export const DASHES_PX: Readonly<Record<LineTypeName, readonly number[]>> = {
  CONTINUOUS: [],
  DASHED: [6, 3],
  CENTRE: [18, 3, 3, 3],
  PHANTOM: [14, 3, 2, 3, 2, 3],
};

/** One third of a millimetre on paper for each px of the screen pattern: a dash of 2 mm, a long dash of 6 mm. */
const PRINT_MM_PER_PX = 1 / 3;

/** The one table of layers. */
export const LAYERS: Readonly<Record<LayerName, LayerStyle>> = {
  grid: {
    label: '10 mm grid',
    lineType: 'CONTINUOUS',
    screenPx: 1,
    printMm: undefined,
    printInk: 'pale',
  },
  ghost: {
    label: 'last revision',
    lineType: 'PHANTOM',
    screenPx: 1.2,
    printMm: 0.18,
    printInk: 'grey',
  },
  hidden: {
    label: 'behind the plate',
    lineType: 'DASHED',
    screenPx: 1.1,
    printMm: 0.25,
    printInk: 'black',
  },
  channel: {
    label: 'ring channel',
    lineType: 'CONTINUOUS',
    screenPx: 1,
    printMm: 0.18,
    printInk: 'black',
  },
  visible: {
    label: 'visible edges',
    lineType: 'CONTINUOUS',
    screenPx: 1.5,
    printMm: 0.35,
    printInk: 'black',
  },
  cut: {
    label: 'outline and cut edges',
    lineType: 'CONTINUOUS',
    screenPx: 2.25,
    printMm: 0.5,
    printInk: 'black',
  },
  centre: {
    label: 'centre lines',
    lineType: 'CENTRE',
    screenPx: 0.9,
    printMm: 0.2,
    printInk: 'black',
  },
  dimension: {
    label: 'dimensions',
    lineType: 'CONTINUOUS',
    screenPx: 1,
    printMm: 0.2,
    printInk: 'black',
  },
  accent: {
    label: 'what is looked at',
    lineType: 'CONTINUOUS',
    screenPx: 1.5,
    printMm: 0.7,
    printInk: 'black',
  },
  text: {
    label: 'words',
    lineType: 'CONTINUOUS',
    screenPx: 1,
    printMm: 0.2,
    printInk: 'black',
  },
};

/** Pitch of 45 degree hatching on paper, mm. */
export const HATCH_PITCH_MM = 1.5;

/** Pitch of 45 degree hatching on a screen, CSS px. */
export const HATCH_PITCH_PX = 3.2;

/**
 * The dashes and gaps of a line type on paper.
 *
 * @param lineType  one of the four line types
 * @returns         dash, gap, dash, gap ..., mm; empty for a continuous line
 * @source          from memory
 */
export function printDashesMm(lineType: LineTypeName): readonly number[] {
  return DASHES_PX[lineType].map((px) => Math.round(px * PRINT_MM_PER_PX * 100) / 100);
}
