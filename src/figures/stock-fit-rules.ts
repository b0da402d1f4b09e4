import type { Figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { stockPieces } from './inputs.ts';
import { mend } from './rule-parts.ts';
import {
  backHalfWidth,
  backLengthSpare,
  backThicknessSpare,
  billetLengthSpare,
  bindingSpare,
  blockBlankSpare,
  boardBlankSpare,
  bridgeBlankSpare,
  halfWidth,
  halfWidthLeast,
  liningSpare,
  neckBlankThicknessSpare,
  sideLengthSpare,
  sideThicknessSpare,
  sideWidthSpare,
  topLengthSpare,
  topThicknessSpare,
} from './stock-fit.ts';

const practice = 'common practice, no published source';

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
  remedies: [...remedies, { input: stockPieces }],
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
    remedies: [mend('body.lower_bout.width', 'less', 1), { input: stockPieces }],
    source: practice,
    place: 'stock',
  },
  {
    id: 'stock-back-half-width',
    label: 'Back halves wide enough',
    subject: backHalfWidth,
    hard: { low: halfWidthLeast },
    why: 'Two halves too narrow for the lower bout need wings glued on before they are joined.',
    remedies: [mend('body.lower_bout.width', 'less', 1), { input: stockPieces }],
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
    'Neck blank thick enough',
    neckBlankThicknessSpare,
    'A neck blank too thin for the head leaves no wood to plane the scarf and the fret face true.',
    [mend('neck.head.thickness', 'less', 0.5), mend('neck.fret_9.final', 'less', 0.1)],
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
