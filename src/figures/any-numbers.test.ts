import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { STARTING, startingPattern } from '../../test/support/patterns.ts';
import { isAbsent } from '../graph/figure.ts';
import { evaluate, isPending } from '../graph/sheet.ts';
import { inputTable } from '../pattern/input-table.ts';
import { isFinding } from '../quantity/finding.ts';
import { givenInputs } from './inputs.ts';
import { patternCatalogue } from './pattern-sheet.ts';

/** A share of the inputs put anywhere between their plausible limits, or left out. */
const change = fc.array(
  fc.record({
    at: fc.nat(inputTable.length - 1),
    share: fc.option(fc.double({ min: 0, max: 1, noNaN: true }), { freq: 25 }),
  }),
  { minLength: 1, maxLength: 40 },
);

describe('any numbers within the plausible limits', () => {
  it('give values or findings with a sentence, never a number that is none (seed 12)', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...STARTING),
        change,
        fc.integer({ min: 1, max: 6 }),
        (name, changes, count) => {
          const pattern = startingPattern(name);
          const inputs = new Map(givenInputs({ ...pattern, strings: pattern.strings.slice(0, count) }));
          for (const { at, share } of changes) {
            const spec = inputTable[at] as (typeof inputTable)[number];
            if (share === null) inputs.delete(spec.id);
            else {
              const value = spec.low + (spec.high - spec.low) * share;
              inputs.set(spec.id, spec.unit === 'count' ? Math.round(value) : value);
            }
          }
          const sheet = evaluate(patternCatalogue, { inputs });
          sheet.cells.forEach((cell, i) => {
            const figure = patternCatalogue.ordered[i] as (typeof patternCatalogue.ordered)[0];
            if (isFinding(cell)) {
              expect(cell.text, figure.id).toMatch(/^[A-Z].*\.$/);
              expect(patternCatalogue.byId.has(cell.figure), figure.id).toBe(true);
            } else if (!isAbsent(cell) && !isPending(cell) && figure.members)
              for (const member of figure.members(cell))
                expect(Number.isFinite(member.value), `${figure.id}.${member.key} is ${member.value}`).toBe(
                  true,
                );
          });
        },
      ),
      { seed: 12, numRuns: 120 },
    );
  });
});
