import { describe, expect, it } from 'vitest';
import { expectClose } from '../../../../test/support/expect-close.ts';
import { circle, type Drawing, horizontalDimension, line } from '../../../drawing/model.ts';
import { gripsOf, inputChange, keyDirection, snapped } from './handles.ts';

const exact = { tol: 1e-9, source: 'plane-geometry' };
const origin = { x: 0, y: 0 };

describe('inputChange', () => {
  it('doubles the way of one side for a full width, and turns it round in the inside view', () => {
    const handle = { inputId: 'body.lower_bout.width', axis: 'x', gainRatio: 2 } as const;
    expectClose(inputChange(handle, { x: 185, y: 350 }, { x: 188, y: 350 }, false), 6, exact);
    expectClose(inputChange(handle, { x: -185, y: 350 }, { x: -188, y: 350 }, true), 6, exact);
  });

  it('measures a radius from its centre', () => {
    const handle = { inputId: 'hole.radius', axis: 'radial', about: { x: 0, y: 142 } } as const;
    expectClose(inputChange(handle, { x: 3, y: 146 }, { x: 6, y: 150 }, false), 5, exact);
  });

  it('counts a turn in degrees the short way', () => {
    const handle = { inputId: 'brace.x.opening_angle', axis: 'angle', gainRatio: 2, about: origin } as const;
    expectClose(inputChange(handle, { x: -1, y: 0.01 }, { x: -1, y: -0.01 }, false), 2.2917, {
      tol: 1e-3,
      source: 'plane-geometry: 4 x atan(0.01) in degrees',
    });
  });
});

describe('keyDirection', () => {
  it('moves the grip the way the arrow points', () => {
    const across = { inputId: 'a', axis: 'x', gainRatio: 2 } as const;
    expect(keyDirection(across, 'ArrowRight', false)).toBe(1);
    expect(keyDirection(across, 'ArrowRight', true)).toBe(-1);
    expect(keyDirection(across, 'ArrowUp', false)).toBeUndefined();
    expect(keyDirection({ inputId: 'b', axis: 'y' }, 'ArrowDown', false)).toBe(1);
    expect(keyDirection({ inputId: 'c', axis: 'radial' }, 'ArrowUp', false)).toBe(1);
  });
});

describe('gripsOf', () => {
  it('gives one grip for each input, at the first entity that carries it', () => {
    const handle = { inputId: 'body.waist.width', axis: 'x', gainRatio: 2 } as const;
    const drawing: Drawing = {
      id: 'test',
      title: 'Test',
      seenFrom: 'the front',
      frame: { minX: 0, minY: 0, maxX: 1, maxY: 1 },
      entities: [
        horizontalDimension({ x: -5, y: 3 }, { x: 5, y: 3 }, 9, { handle }),
        line('cut', origin, { x: 2, y: 2 }, { handle }),
        circle('cut', { x: 0, y: 7 }, 2, { handle: { inputId: 'hole.radius', axis: 'radial' } }),
      ],
    };
    const grips = gripsOf(drawing);
    expect(grips.map((grip) => grip.handle.inputId)).toEqual(['body.waist.width', 'hole.radius']);
    expect(grips[0]?.at).toEqual({ x: 5, y: 3 });
  });
});

describe('snapped', () => {
  it('rounds to the step and stays within the limits', () => {
    expectClose(snapped(219.26, 0.5, 80, 400), 219.5, exact);
    expectClose(snapped(900, 0.5, 80, 400), 400, exact);
  });
});
