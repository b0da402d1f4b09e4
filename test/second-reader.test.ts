import { describe, expect, it } from 'vitest';
import { allDrawings } from '../src/drawing/drawing-table.ts';
import { frontFace } from '../src/drawing/front-face.ts';
import { insideFace } from '../src/drawing/inside-face.ts';
import { sheetOfPattern } from '../src/figures/pattern-sheet.ts';
import { drawingToDxf } from '../src/output/dxf.ts';
import { expectClose } from './support/expect-close.ts';
import { STARTING, startingPattern } from './support/patterns.ts';
import { hasSecondReader, type MeasuredShape, readWithSecondReader } from './support/second-reader.ts';

const steel = startingPattern('small-steel-string');
const rightHanded = sheetOfPattern(steel);
const leftHanded = sheetOfPattern({ ...steel, handed: 'left' });
const source = 'plane-geometry';

/** Places of shapes on a layer, to 0.01 mm, in a fixed order; mirrored when asked. */
function places(shapes: readonly MeasuredShape[], layer: string, isMirrored = false): readonly string[] {
  const shown = (value: number) => (Math.round(value * 100) / 100 + 0).toFixed(2);
  return shapes
    .filter((shape) => shape.layer === layer)
    .map(({ centre: [x, y], width, height }) => [isMirrored ? -x : x, y, width, height].map(shown).join(' '))
    .map((place) => place.replaceAll('-0.00', '0.00'))
    .sort();
}

describe.runIf(hasSecondReader())('drawings of the starting patterns, measured by the second reader', () => {
  it.each(STARTING)('%s: opens without a fault and has the body and hole of the pattern', (name) => {
    const pattern = startingPattern(name);
    const read = readWithSecondReader(drawingToDxf(frontFace(sheetOfPattern(pattern))));
    expect([read.errors, read.fixes, read.units]).toEqual([[], [], 4]);
    const body = read.splines.find(({ layer }) => layer === 'cut')!;
    const given = (id: string) => pattern.numbers.get(id)!;
    expectClose(body.height, given('body.length'), { tol: 0.01, source });
    expectClose(body.width, given('body.lower_bout.width'), { tol: 0.01, source });
    const hole = read.circles.find(([layer]) => layer === 'cut')!;
    expectClose(hole[3], given('hole.radius'), { tol: 0.001, source });
    expectClose(-hole[2], given('hole.centre_y'), { tol: 0.001, source });
  });

  it.each(allDrawings.map(({ id }) => id))('%s of every starting pattern opens without a fault', (id) => {
    const { draw } = allDrawings.find((listed) => listed.id === id)!;
    for (const name of STARTING) {
      const read = readWithSecondReader(drawingToDxf(draw(sheetOfPattern(startingPattern(name)))));
      expect({ name, errors: read.errors, fixes: read.fixes }).toEqual({ name, errors: [], fixes: [] });
      expect(read.splines.length + read.polylines.length + read.lines.length).toBeGreaterThan(5);
    }
  });

  it('a left-handed front has its bars mirrored and its outline as it was', () => {
    const right = readWithSecondReader(drawingToDxf(frontFace(rightHanded)));
    const left = readWithSecondReader(drawingToDxf(frontFace(leftHanded)));
    const bars = places(right.polylines, 'hidden');
    expect(bars.length).toBeGreaterThan(5);
    expect(places(left.polylines, 'hidden')).not.toEqual(bars);
    expect(places(left.polylines, 'hidden', true)).toEqual(bars);
    expect(places(left.splines, 'cut')).toEqual(places(right.splines, 'cut'));
  });

  it('the inside of a left-handed top looks as the front of a right-handed one', () => {
    const inside = readWithSecondReader(drawingToDxf(insideFace(leftHanded)));
    const front = readWithSecondReader(drawingToDxf(frontFace(rightHanded)));
    const bars = places(inside.polylines, 'visible');
    const behind = places(front.polylines, 'hidden');
    expect(bars.filter((bar) => behind.includes(bar)).length).toBeGreaterThan(5);
  });
});
