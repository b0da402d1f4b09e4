import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { patternCatalogue, sheetOfPattern } from '../figures/pattern-sheet.ts';
import { judge } from '../graph/rule.ts';
import { numberOf } from '../graph/sheet.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { limitsOf } from './limits.ts';
import { nominalFigures } from './nominal-figures.fixture.ts';
import { ownRoute } from './route.ts';
import { figureIdsOf, unknownFigures } from './route-check.ts';

const route = ownRoute();
const patterns = ['small-steel-string', 'nylon-string', 'tenor-ukulele'].map((f) =>
  readPattern(readFileSync(`data/patterns/${f}.yaml`, 'utf8')),
);

describe('figures of the route', () => {
  it('all exist in the catalogue', () => {
    expect(figureIdsOf(route).size).toBeGreaterThan(120);
    expect(unknownFigures(route, (id) => patternCatalogue.byId.has(id))).toEqual([]);
  });

  it('are inputs of the pattern where a freeze point names them', () => {
    const inputs = [...patternCatalogue.byId.values()].filter((f) => f.role === 'input').map((f) => f.id);
    // The finish is a choice of the route, the neck angle is computed: neither is an input of the pattern.
    const known = [...inputs, 'finish', 'neck.angle'];
    for (const p of route.freezePoints)
      for (const name of p.inputs) {
        const found = known.some((id) =>
          name.endsWith('*') ? id.startsWith(name.slice(0, -1)) : id === name,
        );
        expect(found, `${p.id}: ${name}`).toBe(true);
      }
  });

  it.each(patterns)('hold every limit of a reading at its own nominal: $name', (pattern) => {
    const sheet = sheetOfPattern(pattern);
    let judged = 0;
    for (const o of route.operations)
      for (const r of o.readings) {
        if (!(r.instruments ?? o.instruments).includes(pattern.instrument)) continue;
        const l = limitsOf(r, pattern.instrument, (id) => numberOf(sheet, id));
        if (l.nominal === undefined) continue;
        expect(judge(l.nominal, l.hard), `${r.id} ${r.name}: ${l.nominal} in ${JSON.stringify(l.hard)}`).toBe(
          'met',
        );
        judged++;
      }
    expect(judged).toBeGreaterThan(140);
  });

  it('come out as the numbers worked out by hand for the three patterns', () => {
    patterns.forEach((pattern, i) => {
      const sheet = sheetOfPattern(pattern);
      for (const [id, values] of Object.entries(nominalFigures)) {
        const expected = values[i];
        if (expected === undefined) expect(numberOf(sheet, id), `${id} of ${pattern.name}`).toBeUndefined();
        else
          expectClose(numberOf(sheet, id), expected, {
            tol: tolerance(expected),
            source: `by hand: ${id}, ${pattern.name}`,
          });
      }
    });
  });
});

/** Half a unit of the last digit that was written down, rounding of the steps between included. */
const tolerance = (value: number): number =>
  Math.max(0.04, Math.abs(value) * 0.0005) * (value !== 0 && Math.abs(value) < 0.05 ? 0.2 : 1);
