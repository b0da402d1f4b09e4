import { closedPath, type Entity, line, lineTo, type PointMm, text } from '../drawing/model.ts';

const ARROW_MM = 2.2;
const ARROW_HALF_MM = 0.45;

/** A filled arrow whose tip is at `tip`, pointing along `dirRad`. */
function arrow(tip: PointMm, dirRad: number): Entity {
  const back = { x: tip.x - ARROW_MM * Math.cos(dirRad), y: tip.y - ARROW_MM * Math.sin(dirRad) };
  const side = { x: -Math.sin(dirRad) * ARROW_HALF_MM, y: Math.cos(dirRad) * ARROW_HALF_MM };
  return closedPath(
    'dimension',
    tip,
    [
      { x: back.x + side.x, y: back.y + side.y },
      { x: back.x - side.x, y: back.y - side.y },
    ].map(lineTo),
    { fill: 'black', isStroked: false },
  );
}

/**
 * A height too small for its number: arrows from outside, level words beside it.
 *
 * @param x      where the dimension line stands
 * @param fromX  where the two extension lines begin
 * @source       from memory
 */
export function smallHeight(
  x: number,
  fromX: number,
  topY: number,
  bottomY: number,
  words: string,
): readonly Entity[] {
  const isRight = x >= fromX;
  const past = isRight ? 1.5 : -1.5;
  const gap = isRight ? 0.8 : -0.8;
  return [
    line('dimension', { x: fromX + gap, y: topY }, { x: x + past, y: topY }),
    line('dimension', { x: fromX + gap, y: bottomY }, { x: x + past, y: bottomY }),
    line('dimension', { x, y: topY - 4 }, { x, y: topY }),
    line('dimension', { x, y: bottomY }, { x, y: bottomY + 4 }),
    arrow({ x, y: topY }, Math.PI / 2),
    arrow({ x, y: bottomY }, -Math.PI / 2),
    text('dimension', { x: x + (isRight ? 2.4 : -2.4), y: (topY + bottomY) / 2 }, words, 3, {
      anchorX: isRight ? 'start' : 'end',
      anchorY: 'middle',
      weight: 600,
      hasHalo: true,
    }),
  ];
}

/**
 * Words with a thin line to what they name.
 *
 * @param at  beginning (or end, for `end`) of the words, on their middle
 * @source    from memory
 */
export function pointer(
  tip: PointMm,
  at: PointMm,
  words: string,
  anchorX: 'start' | 'end' = 'start',
): readonly Entity[] {
  const from = { x: at.x + (anchorX === 'start' ? -1 : 1), y: at.y };
  return [
    line('dimension', from, tip),
    arrow(tip, Math.atan2(tip.y - from.y, tip.x - from.x)),
    text('dimension', at, words, 2.1, { anchorX, anchorY: 'middle' }),
  ];
}
