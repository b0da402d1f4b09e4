import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { CHECK_LINE_LENGTH_MM, checkLine } from './check-line.ts';
import type { LineEntity } from './model.ts';
import { distanceMm } from './path-walk.ts';

const start = { x: 10, y: 20 };

function ticks(way: 'across' | 'down'): readonly LineEntity[] {
  return checkLine(start, way)
    .filter((entity): entity is LineEntity => entity.kind === 'line')
    .filter(({ from, to }) => distanceMm(from, to) < 10);
}

describe('checkLine', () => {
  it('is 4 in long and has its mm ticks above, its inch ticks below', () => {
    expectClose(CHECK_LINE_LENGTH_MM, 101.6, { tol: 1e-9, source: 'inch-1959' });
    const above = ticks('across').filter(({ to }) => to.y < 20);
    const below = ticks('across').filter(({ to }) => to.y > 20);
    expect(above.map(({ from }) => from.x - 10)).toEqual([0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100]);
    expect(below.map(({ from }) => Math.round((from.x - 10) * 1e6) / 25.4e6)).toEqual([0, 1, 2, 3, 4]);
  });

  it('has longer ticks at 0, 100 mm and 4 in than between', () => {
    const long = ticks('across').filter(({ from, to }) => distanceMm(from, to) > 2);
    expect(long.map(({ from }) => from.x - 10)).toEqual([0, 100, 0, 101.6]);
  });

  it('turned down the paper it has the same ticks, mm on the right', () => {
    const right = ticks('down').filter(({ to }) => to.x > 10 + 1e-9);
    expect(right).toHaveLength(11);
    expectClose(Math.max(...right.map(({ from }) => from.y)), 120, { tol: 1e-9, source: 'plane-geometry' });
  });
});
