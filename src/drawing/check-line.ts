import { type Entity, type LineEntity, line, type PointMm, text } from './model.ts';
import { rotate } from './transform.ts';

/** 4 in, mm. */
const FOUR_INCHES_MM = 4 * 25.4;

/** How long a check line is, ends included, mm. */
export const CHECK_LINE_LENGTH_MM = FOUR_INCHES_MM;

const LINE_WIDTH_MM = 0.2;
const END_TICK_MM = 2.6;
const TICK_MM = 1.3;
const WORDS_MM = 1.8;

/**
 * A line that proves the scale of a print: ticks every 10 mm to 100 mm on its upper side, every inch to 4 in on its
 * lower side. The ends of both lengths have long ticks; a ruler laid on it shows at once what the printer did.
 *
 * @param start  left end; for `down` the upper end
 * @param way    across the paper or down the paper (then the mm side is the right one)
 * @returns      lines and words on the layer `text`
 * @source       inch-1959
 */
export function checkLine(start: PointMm, way: 'across' | 'down'): readonly Entity[] {
  const at = (alongMm: number, upMm: number): PointMm => ({ x: start.x + alongMm, y: start.y - upMm });
  const tick = (alongMm: number, upMm: number): LineEntity =>
    line('text', at(alongMm, 0), at(alongMm, upMm), { widthMm: LINE_WIDTH_MM });
  const mmTicks = Array.from({ length: 11 }, (_, i) => tick(i * 10, i % 10 === 0 ? END_TICK_MM : TICK_MM));
  const inchTicks = Array.from({ length: 5 }, (_, i) =>
    tick(i * 25.4, i % 4 === 0 ? -END_TICK_MM : -TICK_MM),
  );
  const across = [
    line('text', at(0, 0), at(FOUR_INCHES_MM, 0), { widthMm: LINE_WIDTH_MM }),
    ...mmTicks,
    ...inchTicks,
    text('text', at(95, 0.7), '100 mm', WORDS_MM, { anchorX: 'middle', hasHalo: true }),
    text('text', at(95, -0.7), '4 in', WORDS_MM, { anchorX: 'middle', anchorY: 'top', hasHalo: true }),
  ];
  return way === 'across' ? across : rotate(across, Math.PI / 2, start);
}
