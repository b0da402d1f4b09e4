import { circle, type Entity, line, type PointMm } from '../drawing/model.ts';

/**
 * The product's sign: a sound hole in the upper fork of the X. Drawn in a box of 32, crossing (16, 19.5).
 *
 * @param corner  upper left corner of the box
 * @param sizeMm  side of the box, mm
 * @source        plane-geometry
 */
export function sign(corner: PointMm, sizeMm: number): readonly Entity[] {
  const k = sizeMm / 32;
  const at = (x: number, y: number): PointMm => ({ x: corner.x + x * k, y: corner.y + y * k });
  const leg = { widthMm: 3.1 * k };
  const half = (48 * Math.PI) / 180;
  const up = 9.2;
  const down = 11;
  const across = (dy: number): number => Math.abs(dy) * Math.tan(half);
  return [
    line('text', at(16 - across(up), 19.5 - up), at(16 + across(down), 19.5 + down), leg),
    line('text', at(16 + across(up), 19.5 - up), at(16 - across(down), 19.5 + down), leg),
    circle('text', at(16, 8.6), 5.6 * k, { widthMm: 2.1 * k }),
  ];
}
