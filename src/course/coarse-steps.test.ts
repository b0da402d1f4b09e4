import { describe, expect, it } from 'vitest';
import { planRoute } from '../route/planned-route.ts';
import { ownRoute } from '../route/route.ts';
import { afterTouch, operationsOfSteps, stepsUnder } from './coarse-steps.ts';

const route = ownRoute();
const plan = planRoute(route, { instrument: 'steel' });

describe('coarse steps', () => {
  it('a step stands for its operations and for all that come before them', () => {
    const ops = operationsOfSteps(route, plan, ['ring']);
    expect(ops).toEqual(expect.arrayContaining(['A1', 'T1', 'T3', 'T4', 'T9']));
    expect(ops).not.toContain('T10');
    expect(operationsOfSteps(route, plan, [])).toEqual([]);
  });

  it('touching an open step makes everything to its left done', () => {
    expect(afterTouch(route, plan, [], 'ring')).toEqual(['wood', 'top-joined', 'ring']);
    expect(afterTouch(route, plan, ['wood', 'top-joined', 'ring'], 'top-joined')).toEqual(['wood']);
  });

  it('a hole in the middle takes off only what rests on it', () => {
    const all = afterTouch(route, plan, [], 'rim-closed');
    const without = afterTouch(route, plan, all, 'back-cut');
    expect(without).not.toContain('back-cut');
    expect(without).toContain('ring');
    for (const step of without) expect(stepsUnder(route, plan, step).has('back-cut'), step).toBe(false);
  });
});
