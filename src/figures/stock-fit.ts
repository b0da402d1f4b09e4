import { absent, type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import type { StockSpec } from '../pattern/pattern.ts';
import { boardWidthEnd } from './board.ts';
import { backSegments, braceSegments } from './braces.ts';
import { input, stockPieces } from './inputs.ts';
import { neckJoin } from './join.ts';
import { bindingPiece, liningTotal } from './linings.ts';
import { lowerWidth } from './outline.ts';
import { listFigures, mend } from './rule-parts.ts';
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
/** Tenon or foot of the neck inside the body, and what the head scarf saws away. */
const NECK_FOOT_MM = 25;
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

/** Least spare of the neck blank in length, width or thickness. */
export const neckBlankSpare: Figure<number> = figure({
  id: 'stock.neck_blank.spare',
  unit: 'mm',
  label: 'Neck blank to spare in its tightest direction',
  formula:
    'length: less head, nut to join, 25 for the foot and what the scarf of the head angle takes; width: less the widest of head and board, 1.5 a side; thickness: less the head without veneer or the neck at fret 9 without board',
  source: practice,
  from: {
    stock: stockPieces,
    joinMm: neckJoin,
    headMm: input('neck.head.length'),
    topWidthMm: input('neck.head.width_top'),
    nutWidthMm: input('neck.head.width_nut'),
    board12Mm: input('board.width.fret_12'),
    headThickMm: input('neck.head.thickness'),
    angleDeg: input('neck.head.angle'),
    fret9Mm: input('neck.fret_9.final'),
    boardMm: input('board.thickness'),
  },
  compute: (v) => {
    const line = lineOf(v.stock, 'neck blank');
    if (!line) return notListed('neck blank');
    const scarfMm = v.angleDeg > 1 ? v.headThickMm / Math.tan((v.angleDeg * Math.PI) / 180) : 0;
    const lengthMm = v.headMm + v.joinMm + NECK_FOOT_MM + scarfMm;
    const widthMm = Math.max(v.topWidthMm, v.nutWidthMm, v.board12Mm) + 2 * NECK_TRIM_MM;
    const veneerMm = lineOf(v.stock, 'head plate')?.thicknessMm ?? 0;
    const thicknessMm = Math.max(v.headThickMm - veneerMm, v.fret9Mm - v.boardMm) + NECK_TRIM_MM;
    return Math.min(line.lengthMm - lengthMm, line.widthMm - widthMm, line.thicknessMm - thicknessMm);
  },
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

/** Least spare of the two blocks. */
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
export const stockFitFigures: readonly Figure[] = listFigures(
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
  neckBlankSpare,
  boardBlankSpare,
  bridgeBlankSpare,
  braceBlankCount,
  billetWidthSpare,
  billetLengthSpare,
  liningSpare,
  bindingSpare,
  blockBlankSpare,
);

const wood = stockPieces as Figure;
const spareRule = (
  id: string,
  label: string,
  subject: Figure<number>,
  why: string,
  remedies: Rule['remedies'],
): Rule => ({
  id: `stock-${id}`,
  label,
  subject,
  hard: { low: 0 },
  why,
  remedies: [...remedies, { input: wood }],
  source: practice,
  place: 'stock',
});

/** Rules of the rough wood. */
export const stockFitRules: readonly Rule[] = [
  {
    id: 'stock-top-half-width',
    label: 'Top halves wide enough',
    subject: halfWidth,
    hard: { low: halfWidthLeast },
    why: 'Two halves too narrow for the lower bout need wings glued on before they are joined.',
    remedies: [mend('body.lower_bout.width', 'less', 1), { input: wood }],
    source: practice,
    place: 'stock',
  },
  {
    id: 'stock-back-half-width',
    label: 'Back halves wide enough',
    subject: backHalfWidth,
    hard: { low: halfWidthLeast },
    why: 'Two halves too narrow for the lower bout need wings glued on before they are joined.',
    remedies: [mend('body.lower_bout.width', 'less', 1), { input: wood }],
    source: practice,
    place: 'stock',
  },
  spareRule(
    'top-length',
    'Top halves long enough',
    topLengthSpare,
    'The outline with 6 mm at each end must lie on the joined plate; the ends are where the sander dips.',
    [mend('body.length', 'less', 1)],
  ),
  spareRule(
    'back-length',
    'Back halves long enough',
    backLengthSpare,
    'The outline with 6 mm at each end must lie on the joined plate; the ends are where the sander dips.',
    [mend('body.length', 'less', 1)],
  ),
  spareRule(
    'top-thickness',
    'Top halves thick enough',
    topThicknessSpare,
    'Wood thinner than the rough thickness leaves nothing to flatten the joint with.',
    [mend('top.thickness.rough', 'less')],
  ),
  spareRule(
    'back-thickness',
    'Back halves thick enough',
    backThicknessSpare,
    'Wood thinner than the rough thickness leaves nothing to flatten the joint with.',
    [mend('back.thickness.rough', 'less')],
  ),
  spareRule(
    'side-thickness',
    'Side strips thick enough',
    sideThicknessSpare,
    'Wood thinner than the rough thickness leaves saw marks in the bent side.',
    [mend('side.thickness.rough', 'less')],
  ),
  spareRule(
    'side-length',
    'Side strips long enough',
    sideLengthSpare,
    'A strip that ends short of the block leaves a gap at the tail that no wedge covers.',
    [mend('allowance.strip_end', 'less', 1), mend('body.length', 'less', 1)],
  ),
  spareRule(
    'side-width',
    'Side strips wide enough',
    sideWidthSpare,
    'The rim is tallest at the waist and tail, not at the neck; a strip too narrow there cannot meet the back.',
    [
      mend('allowance.strip_edge', 'less', 0.5),
      mend('rim.height.tail', 'less', 0.5),
      mend('rim.height.neck', 'less', 0.5),
    ],
  ),
  spareRule(
    'neck-blank',
    'Neck blank large enough',
    neckBlankSpare,
    'A neck blank too small for the head needs ears glued on, one too short has no foot.',
    [
      mend('neck.head.width_top', 'less', 0.5),
      mend('neck.head.length', 'less', 1),
      mend('neck.head.thickness', 'less', 0.5),
    ],
  ),
  spareRule(
    'board-blank',
    'Board blank large enough',
    boardBlankSpare,
    'The board widens to its end over the body; that is where a narrow blank runs out.',
    [
      mend('board.width.fret_12', 'less', 0.5),
      mend('board.length', 'less', 1),
      mend('board.thickness', 'less', 0.1),
    ],
  ),
  spareRule(
    'bridge-blank',
    'Bridge blank large enough',
    bridgeBlankSpare,
    'A bridge blank must leave wood to square it after the foot is fitted to the dome.',
    [mend('bridge.length', 'less', 1), mend('bridge.width', 'less', 0.5), mend('bridge.height', 'less', 0.1)],
  ),
  spareRule(
    'brace-billet-length',
    'Brace billet long enough',
    billetLengthSpare,
    'A bar cannot be pieced: the longest leg decides the billet.',
    [
      mend('allowance.brace_end', 'less', 1),
      mend('brace.x.lower_end_y', 'less', 1),
      mend('brace.x.upper_end_y', 'more', 1),
    ],
  ),
  spareRule(
    'linings',
    'Lining strips long, wide and high enough',
    liningSpare,
    'Running out of lining in the middle of a gluing stops the whole rim, and a strip cannot be made wider.',
    [
      mend('lining.width', 'less'),
      mend('lining.height', 'less'),
      mend('body.length', 'less', 1),
      mend('body.lower_bout.width', 'less', 1),
    ],
  ),
  spareRule(
    'bindings',
    'Binding strips long, thick and high enough',
    bindingSpare,
    'A binding that is pieced shows its joint for ever, a low one leaves a gap below the ledge.',
    [
      mend('binding.height', 'less'),
      mend('binding.thickness', 'less'),
      mend('body.length', 'less', 1),
      mend('body.lower_bout.width', 'less', 1),
    ],
  ),
  spareRule(
    'tail-block',
    'Tail block blank large enough',
    blockBlankSpare,
    'The tail block must reach from top to back over the full rim height.',
    [
      mend('block.tail.width', 'less', 0.5),
      mend('block.tail.thickness', 'less', 0.5),
      mend('rim.height.tail', 'less', 0.5),
    ],
  ),
];
