import { describe, expect, it } from 'vitest';
import { InputError } from '../quantity/input-error.ts';
import { planRoute } from './planned-route.ts';
import { ownRoute } from './route.ts';
import { editFault, editRoute } from './route-edit.ts';

const route = ownRoute();
const op = (r: typeof route, id: string) => r.operations.find((o) => o.id === id);

describe('editRoute', () => {
  it('changes minutes, text, photo and link of one operation and leaves the route it was given alone', () => {
    const { route: now } = editRoute(route, [
      { what: 'minutes', op: 'T6', part: 1, minutes: { low: 6, likely: 12, high: 20 } },
      { what: 'text', op: 'T6', text: 'Use the brass guide.' },
      { what: 'photo', op: 'T6', hash: 'abc123' },
      { what: 'link', op: 'T6', url: 'https://workshop.example/pilot' },
    ]);
    expect(op(now, 'T6')).toMatchObject({
      ownText: 'Use the brass guide.',
      photo: 'abc123',
      link: 'https://workshop.example/pilot',
    });
    expect(op(now, 'T6')?.parts[0]).toMatchObject({ minutes: { likely: 12 }, batch: { eachMin: 12 } });
    expect(op(route, 'T6')?.parts[0]?.minutes.likely).toBe(10);
  });

  it('adds a jig of the own shop to the operations that use it', () => {
    const { route: now } = editRoute(route, [
      { what: 'jig', jig: { id: 'side-press', name: 'side press', count: 1 }, ops: ['S3'] },
    ]);
    expect(now.jigs.map((j) => j.id)).toContain('side-press');
    expect(op(now, 'S3')?.jigs).toContain('side-press');
  });

  it('switches an operation off and on again', () => {
    const off = editRoute(route, [{ what: 'switch-off', op: 'X7' }]).off;
    expect(off).toEqual(['X7']);
    expect(
      planRoute(route, { instrument: 'steel', skip: off })
        .byId.get('X8')
        ?.before.map((l) => l.from),
    ).toEqual(['X6']);
    expect(
      editRoute(route, [
        { what: 'switch-off', op: 'X7' },
        { what: 'switch-on', op: 'X7' },
      ]).off,
    ).toEqual([]);
  });

  it('advises against switching off what everything later waits for with a signature', () => {
    expect(editFault(route, { what: 'switch-off', op: 'X4' })).toMatch(/Look inside.*closing list.*minutes/);
    expect(editFault(route, { what: 'switch-off', op: 'X7' })).toBeUndefined();
    expect(editFault(route, { what: 'text', op: 'X4', text: 'look well' })).toBeUndefined();
    expect(() => editFault(route, { what: 'switch-off', op: 'X99' })).toThrow(/X99/);
  });

  it('adds an operation between two others', () => {
    const { route: now } = editRoute(route, [
      {
        what: 'add',
        id: 'own-label',
        name: 'Paint the label',
        step: 'closed',
        after: ['X3'],
        before: ['X4'],
        at: ['bench'],
        minutes: { low: 5, likely: 10, high: 20 },
        text: 'paint and sign the label',
      },
    ]);
    const plan = planRoute(now, { instrument: 'uke' });
    expect(plan.byId.get('X4')?.before.map((l) => l.from)).toContain('own-label');
    expect(plan.byId.get('own-label')?.before.map((l) => l.from)).toEqual(['X3']);
  });

  it('refuses a change that breaks the route, with nothing changed', () => {
    const add = (after: string[], before: string[]) =>
      editRoute(route, [
        {
          what: 'add',
          id: 'new',
          name: 'New',
          step: 'ring',
          after,
          before,
          at: ['bench'],
          minutes: { low: 1, likely: 2, high: 3 },
          text: 'x',
        },
      ]);
    expect(() => add(['X4'], ['T1'])).toThrow(/wait for each other/);
    expect(() => add(['nowhere'], [])).toThrow(InputError);
    expect(() => editRoute(route, [{ what: 'link', op: 'T1', url: 'javascript:alert(1)' }])).toThrow(
      /not a web address/,
    );
    expect(() =>
      editRoute(route, [{ what: 'minutes', op: 'T1', part: 9, minutes: { low: 1, likely: 2, high: 3 } }]),
    ).toThrow(/choose 1 to 1/);
    expect(() =>
      editRoute(route, [{ what: 'minutes', op: 'T6', part: 1, minutes: { low: 1, likely: 90, high: 100 } }]),
    ).toThrow(/without a stopping place/);
    expect(() => editRoute(route, [{ what: 'switch-off', op: 'Z9' }])).toThrow(/no operation called Z9/);
  });
});
