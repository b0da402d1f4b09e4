import { absent, type Figure, figure } from '../graph/figure.ts';
import type { StockSpec } from '../pattern/pattern.ts';
import { boardWidthEnd } from './board.ts';
import { backSegments, braceSegments } from './braces.ts';
import { input, stockPieces } from './inputs.ts';
import { bindingPiece, liningTotal } from './linings.ts';
import { blankSpare, blankSpareWidth } from './neck.ts';
import { lowerWidth } from './outline.ts';
import { stripHeightMost, stripLength } from './side-strip.ts';

const practice = 'common practice, no published source';

/** Joint planing and centring of one half, and waste at its outer edge. */
const HALF_SPARE_MM = 12;
const EDGE_WASTE_MM = 6;
/** Wood at each end of a plate beyond the outline. */
const PLATE_END_MM = 6;
/** What planing takes off a neck, board or bridge blank. */
const NECK_TRIM_MM = 1.5;
const BOARD_TRIM_MM = 1;
/** Saw kerf and planing of a brace blank. */
const BRACE_KERF_MM = 1.2;
const BRACE_SPARE_MM = 0.5;

const lineOf = (stock: readonly StockSpec[], part: string): StockSpec | undefined =>
  stock.find((s) => s.part === part);
const notListed = (part: string) => absent(`the rough wood of this pattern lists no ${part}`);

const sizeOf = (id: string, label: string, part: string, of: (line: StockSpec) => number): Figure<number> =>
  figure({
    id,
    unit: 'mm',
    label,
    formula: `as listed in the rough wood, ${part}`,
    source: practice,
    from: { stock: stockPieces },
    compute: ({ stock }) => {
      const line = lineOf(stock, part);
      return line ? of(line) : notListed(part);
    },
  });

/** Rough width of one half of the top. */
export const halfWidth = sizeOf('stock.half_width', 'Top half, rough width', 'top half', (l) => l.widthMm);
/** Rough width of one half of the back. */
export const backHalfWidth = sizeOf(
  'stock.back_half_width',
  'Back half, rough width',
  'back half',
  (l) => l.widthMm,
);

/** Least width of one half. */
export const halfWidthLeast: Figure<number> = figure({
  id: 'stock.half_width.least',
  unit: 'mm',
  label: 'Least width of one half of a plate',
  formula: 'half the lower bout + 12 + 6 for edge waste',
  source: practice,
  from: { bout: lowerWidth },
  compute: ({ bout }) => bout / 2 + HALF_SPARE_MM + EDGE_WASTE_MM,
});

const plateSpare = (which: 'top' | 'back', label: string): Figure<number> =>
  figure({
    id: `stock.${which}.length_spare`,
    unit: 'mm',
    label: `${label}, rough length to spare`,
    formula: 'rough length, less body length, less 6 at each end',
    source: practice,
    from: { stock: stockPieces, lengthMm: input('body.length') },
    compute: ({ stock, lengthMm }) => {
      const line = lineOf(stock, `${which} half`);
      return line ? line.lengthMm - lengthMm - 2 * PLATE_END_MM : notListed(`${which} half`);
    },
  });

/** Spare length of the top. */
export const topLengthSpare = plateSpare('top', 'Top');
/** Spare length of the back. */
export const backLengthSpare = plateSpare('back', 'Back');

const thicknessSpare = (which: 'top' | 'back' | 'side', part: string, label: string): Figure<number> =>
  figure({
    id: `stock.${which}.thickness_spare`,
    unit: 'mm',
    label: `${label}, rough thickness to spare`,
    formula: 'thickness as bought, less the thickness before sanding',
    source: practice,
    from: { stock: stockPieces, roughMm: input(`${which}.thickness.rough`) },
    compute: ({ stock, roughMm }) => {
      const line = lineOf(stock, part);
      return line ? line.thicknessMm - roughMm : notListed(part);
    },
  });

/** Spare thickness of the top. */
export const topThicknessSpare = thicknessSpare('top', 'top half', 'Top');
/** Spare thickness of the back. */
export const backThicknessSpare = thicknessSpare('back', 'back half', 'Back');
/** Spare thickness of the sides. */
export const sideThicknessSpare = thicknessSpare('side', 'side', 'Side');

/** Spare length of the side. */
export const sideLengthSpare: Figure<number> = figure({
  id: 'stock.side.length_spare',
  unit: 'mm',
  label: 'Side, rough length to spare',
  formula: 'rough length less strip length with its spare ends',
  source: practice,
  from: { stock: stockPieces, needMm: stripLength },
  compute: ({ stock, needMm }) => {
    const line = lineOf(stock, 'side');
    return line ? line.lengthMm - needMm : notListed('side');
  },
});

/** Spare width of the side. */
export const sideWidthSpare: Figure<number> = figure({
  id: 'stock.side.width_spare',
  unit: 'mm',
  label: 'Side, rough width to spare',
  formula: 'rough width less the band the strip is cut from',
  source: practice,
  from: { stock: stockPieces, needMm: stripHeightMost },
  compute: ({ stock, needMm }) => {
    const line = lineOf(stock, 'side');
    return line ? line.widthMm - needMm : notListed('side');
  },
});

/** Spare thickness of the neck blank. */
export const neckBlankThicknessSpare: Figure<number> = figure({
  id: 'stock.neck_blank.thickness_spare',
  unit: 'mm',
  label: 'Neck blank, thickness to spare',
  formula:
    'rough thickness less 1.5, less the thicker of: head without its plate; neck at fret 9 without the board',
  source: practice,
  from: {
    stock: stockPieces,
    headMm: input('neck.head.thickness'),
    fret9Mm: input('neck.fret_9.final'),
    boardMm: input('board.thickness'),
  },
  compute: ({ stock, headMm, fret9Mm, boardMm }) => {
    const line = lineOf(stock, 'neck blank');
    if (!line) return notListed('neck blank');
    const plateMm = lineOf(stock, 'head plate')?.thicknessMm ?? 0;
    return line.thicknessMm - Math.max(headMm - plateMm, fret9Mm - boardMm) - NECK_TRIM_MM;
  },
});

/** Least spare of the neck blank in length, width or thickness. */
export const neckBlankSpare: Figure<number> = figure({
  id: 'stock.neck_blank.spare',
  unit: 'mm',
  label: 'Neck blank to spare in its tightest direction',
  formula: 'least of its length, width and thickness to spare',
  source: practice,
  from: { lengthMm: blankSpare, widthMm: blankSpareWidth, thicknessMm: neckBlankThicknessSpare },
  compute: ({ lengthMm, widthMm, thicknessMm }) => Math.min(lengthMm, widthMm, thicknessMm),
});

/** Least spare of the board blank. */
export const boardBlankSpare: Figure<number> = figure({
  id: 'stock.board.spare',
  unit: 'mm',
  label: 'Board blank to spare in its tightest direction',
  formula:
    'rough length, width and thickness less the board and 1 a side in length and width, 0.3 in thickness',
  source: practice,
  from: {
    stock: stockPieces,
    lengthMm: input('board.length'),
    endMm: boardWidthEnd,
    thicknessMm: input('board.thickness'),
  },
  compute: ({ stock, lengthMm, endMm, thicknessMm }) => {
    const line = lineOf(stock, 'fretboard');
    if (!line) return notListed('fretboard');
    return Math.min(
      line.lengthMm - lengthMm - 2 * BOARD_TRIM_MM,
      line.widthMm - endMm - 2 * BOARD_TRIM_MM,
      line.thicknessMm - thicknessMm - 0.3,
    );
  },
});

/** Least spare of the bridge blank. */
export const bridgeBlankSpare: Figure<number> = figure({
  id: 'stock.bridge.spare',
  unit: 'mm',
  label: 'Bridge blank to spare in its tightest direction',
  formula:
    'rough length, width and thickness less the bridge and 1 a side in length and width, 0.5 in height',
  source: practice,
  from: {
    stock: stockPieces,
    lengthMm: input('bridge.length'),
    widthMm: input('bridge.width'),
    heightMm: input('bridge.height'),
  },
  compute: ({ stock, lengthMm, widthMm, heightMm }) => {
    const line = lineOf(stock, 'bridge blank');
    if (!line) return notListed('bridge blank');
    return Math.min(
      line.lengthMm - lengthMm - 2 * BOARD_TRIM_MM,
      line.widthMm - widthMm - 2 * BOARD_TRIM_MM,
      line.thicknessMm - heightMm - 0.5,
    );
  },
});

/**
 * Slices sawn from a block: n pieces need n - 1 kerfs.
 *
 * @param blockMm  thickness of the block
 * @param sliceMm  rough thickness of a slice; > 0
 * @param kerfMm   saw kerf with planing
 * @returns        whole slices
 * @source         arithmetic
 * @example        sliceCount(50, 4.5, 1.2) // 8
 */
export function sliceCount(blockMm: number, sliceMm: number, kerfMm: number): number {
  return Math.max(0, Math.floor((blockMm + kerfMm) / (sliceMm + kerfMm) + 1e-9));
}

/** Blanks of X width that the billets give. */
export const braceBlankCount: Figure<number> = figure({
  id: 'stock.brace_blank.count',
  unit: 'count',
  label: 'Brace blanks 8.5 wide from the billets',
  formula: 'billets x (billet width + kerf) / (8.5 + kerf), whole ones',
  source: practice,
  from: { stock: stockPieces },
  compute: ({ stock }) => {
    const line = lineOf(stock, 'brace billet');
    return line ? line.count * sliceCount(line.widthMm, 8.5, BRACE_KERF_MM) : notListed('brace billet');
  },
});

/** Width of billet left after the tall bars are sawn; low ones come from the layer above. */
export const billetWidthSpare: Figure<number> = figure({
  id: 'stock.brace_billet.width_spare',
  unit: 'mm',
  label: 'Brace billets, width to spare',
  formula:
    'all billet widths with one kerf, less width + 0.5 + kerf of each bar too tall for the layer left above the tallest',
  source: practice,
  from: { stock: stockPieces, top: braceSegments, back: backSegments },
  compute: ({ stock, top, back }) => {
    const line = lineOf(stock, 'brace billet');
    if (!line) return notListed('brace billet');
    const bars = [...top, ...back];
    const tallest = Math.max(...bars.map((b) => b.heightMm));
    const layerMm = line.thicknessMm - tallest - 1 - BRACE_KERF_MM;
    const need = bars
      .filter((b) => b.heightMm > layerMm)
      .reduce((sum, b) => sum + b.widthMm + BRACE_SPARE_MM + BRACE_KERF_MM, 0);
    return line.count * (line.widthMm + BRACE_KERF_MM) - need;
  },
});

/** Length of billet beyond the longest bar. */
export const billetLengthSpare: Figure<number> = figure({
  id: 'stock.brace_billet.length_spare',
  unit: 'mm',
  label: 'Brace billet, length to spare',
  formula: 'billet length less the longest bar with its over length',
  source: practice,
  from: {
    stock: stockPieces,
    top: braceSegments,
    back: backSegments,
    overMm: input('allowance.brace_end'),
  },
  compute: ({ stock, top, back, overMm }) => {
    const line = lineOf(stock, 'brace billet');
    if (!line) return notListed('brace billet');
    const longest = Math.max(
      ...[...top, ...back].map((s) => Math.hypot(s.to.xMm - s.from.xMm, s.to.yMm - s.from.yMm)),
    );
    return line.lengthMm - longest - overMm;
  },
});

/** Lining to spare: length of all strips, width and height of one. */
export const liningSpare: Figure<number> = figure({
  id: 'stock.lining.spare',
  unit: 'mm',
  label: 'Lining strips to spare in their tightest direction',
  formula: 'all strips end to end less lining to order; strip width and height less those of the lining',
  source: practice,
  from: {
    stock: stockPieces,
    needMm: liningTotal,
    widthMm: input('lining.width'),
    heightMm: input('lining.height'),
  },
  compute: ({ stock, needMm, widthMm, heightMm }) => {
    const line = lineOf(stock, 'linings');
    if (!line) return notListed('linings');
    return Math.min(line.count * line.lengthMm - needMm, line.widthMm - widthMm, line.thicknessMm - heightMm);
  },
});

/** Binding to spare: each run in one piece, thickness and height. */
export const bindingSpare: Figure<number> = figure({
  id: 'stock.binding.spare',
  unit: 'mm',
  label: 'Binding strips to spare in their tightest direction',
  formula:
    'strip length less one binding with its spare; strip thickness and height less those of the binding',
  source: practice,
  from: {
    stock: stockPieces,
    needMm: bindingPiece,
    thicknessMm: input('binding.thickness'),
    heightMm: input('binding.height'),
  },
  compute: ({ stock, needMm, thicknessMm, heightMm }) => {
    const line = lineOf(stock, 'binding');
    if (!line) return notListed('binding');
    return Math.min(line.lengthMm - needMm, line.widthMm - thicknessMm, line.thicknessMm - heightMm);
  },
});

/** Least spare of the tail block. */
export const blockBlankSpare: Figure<number> = figure({
  id: 'stock.tail_block.spare',
  unit: 'mm',
  label: 'Tail block blank to spare in its tightest direction',
  formula: 'rough block less the tail block: width, thickness and rim height at the tail',
  source: practice,
  from: {
    stock: stockPieces,
    widthMm: input('block.tail.width'),
    thicknessMm: input('block.tail.thickness'),
    rimMm: input('rim.height.tail'),
  },
  compute: ({ stock, widthMm, thicknessMm, rimMm }) => {
    const line = lineOf(stock, 'tail block');
    if (!line) return notListed('tail block');
    return Math.min(line.lengthMm - widthMm, line.widthMm - thicknessMm, line.thicknessMm - rimMm);
  },
});

/** Figures of the rough wood. */
export const stockFitFigures: readonly Figure[] = [
  halfWidth,
  backHalfWidth,
  halfWidthLeast,
  topLengthSpare,
  backLengthSpare,
  topThicknessSpare,
  backThicknessSpare,
  sideThicknessSpare,
  sideLengthSpare,
  sideWidthSpare,
  neckBlankThicknessSpare,
  neckBlankSpare,
  boardBlankSpare,
  bridgeBlankSpare,
  braceBlankCount,
  billetWidthSpare,
  billetLengthSpare,
  liningSpare,
  bindingSpare,
  blockBlankSpare,
];
