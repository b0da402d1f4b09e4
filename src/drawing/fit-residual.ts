import type { FittedOutline, OutlineResidual } from '../figures/fit-outline.ts';
import { halfOutline } from '../geometry/half-outline.ts';
import { type OutlineNumbers, outlineHandles, outlinePieces } from '../geometry/outline-from-numbers.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import { drawingOf } from './assemble.ts';
import { wholeOutline } from './body-outline.ts';
import { circle, closedPath, type Drawing, type Entity, line, text } from './model.ts';

/** Residuals are drawn this much larger than they are. */
const TIMES = 20;

function residualMarks(r: OutlineResidual, isLargest: boolean): readonly Entity[] {
  const at = { x: r.halfWidthMm, y: r.yMm };
  const end = { x: at.x + TIMES * r.residualMm, y: at.y };
  const label = isLargest
    ? [
        text(
          'text',
          { x: Math.min(at.x, end.x) - 3, y: at.y },
          `${formatDecimal(r.residualMm, 2)} mm, the largest`,
          3.2,
          { weight: 600, anchorX: 'end' },
        ),
      ]
    : [];
  return [circle('dimension', at, 0.8), line('visible', at, end), ...label];
}

function curveOf(numbers: OutlineNumbers): readonly Entity[] {
  const handles = outlineHandles(numbers);
  const whole = wholeOutline(halfOutline(outlinePieces(numbers, handles)));
  return [closedPath('cut', whole.start, whole.segments)];
}

/**
 * The outline fitted to a template with what is left over at each measured place, twenty times as large as it is.
 *
 * @returns a drawing in mm; bars point outward where the template is wider than the fitted outline
 * @source  plane-geometry
 */
export function fitResidualDrawing(fit: FittedOutline): Drawing {
  const largest = fit.residuals.reduce((a, b) => (Math.abs(b.residualMm) > Math.abs(a.residualMm) ? b : a));
  const marks = fit.residuals.flatMap((r) => residualMarks(r, r === largest));
  const centre = line('centre', { x: 0, y: -8 }, { x: 0, y: fit.numbers.lengthMm + 8 });
  const note = text(
    'text',
    { x: -fit.numbers.lowerWidthMm / 2, y: fit.numbers.lengthMm + 14 },
    `Bars: template less fitted outline, ${TIMES} times as large. Root mean square ${formatDecimal(fit.rmsMm, 2)} mm.`,
    3.2,
  );
  return drawingOf({
    id: 'fit-residual',
    title: 'Fit of the template',
    seenFrom: 'the front',
    marginMm: 8,
    entities: [...curveOf(fit.numbers), centre, ...marks, note],
  });
}
