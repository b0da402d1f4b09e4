import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { isFinding } from '../quantity/finding.ts';
import { equilibriumMoistureFrac } from './moisture.ts';
import { dimensionalChange, type Movement } from './movement.ts';
import { findSpecies, type Species } from './species.ts';

const at = (humidityFrac: number): number => equilibriumMoistureFrac({ tempC: 20, humidityFrac });
const change = (
  widthMm: number,
  from: number,
  to: number,
  name: string,
  dir: 'radial' | 'tangential',
): Movement => {
  const moved = dimensionalChange(widthMm, from, to, findSpecies(name), dir);
  if (isFinding(moved)) throw new Error(moved.text);
  return moved;
};

describe('movement of wood', () => {
  it('follows the worked example of the handbook: white fir, 232 mm, 8 to 11 %, coefficient 0.00245', () => {
    const fir: Species = {
      id: 'fir-white',
      name: 'Fir, white',
      kind: 'softwood',
      values: {
        change_tangential_per_pct: {
          value: 0.00245,
          source: 'wood-handbook',
          where: 'p. 13-17',
          provenance: 'published',
        },
      },
    };
    const moved = dimensionalChange(232, 0.08, 0.11, fir, 'tangential') as Movement;
    expectClose(232 + moved.changeMm, 233.7, { tol: 0.06, source: 'wood-handbook, p. 13-17' });
    expect(moved.formula).toBe('coefficient');
  });

  it('a spruce top 370 wide from 45 % humidity: at 30, 20 and 60 %', () => {
    const from = at(0.45);
    const source = 'wood-handbook, Table 13-5 and Table 4-3 from memory, worked by hand';
    expectClose(change(370, from, at(0.3), 'Sitka spruce', 'radial').changeMm, -1.26, { tol: 0.03, source });
    const dry = change(370, from, at(0.2), 'Sitka spruce', 'radial');
    expectClose(dry.changeMm, -2.18, { tol: 0.03, source });
    expect(dry.formula).toBe('shrinkage');
    expectClose(change(370, from, at(0.6), 'Sitka spruce', 'radial').changeMm, 1.38, { tol: 0.03, source });
  });

  it('a flat-sawn sugar maple back shrinks 3.0 at 30 %', () => {
    expectClose(change(370, at(0.45), at(0.3), 'sugar maple', 'tangential').changeMm, -3.0, {
      tol: 0.05,
      source: 'wood-handbook, Table 13-5',
    });
  });

  it('from green to dry gives the whole shrinkage', () => {
    const moved = change(100, 0.3, 0, 'Sitka spruce', 'radial');
    const whole = findSpecies('spruce-sitka').values.shrinkage_radial_frac?.value as number;
    expectClose(moved.changeMm, -100 * whole, {
      tol: 1e-9,
      source: 'wood-handbook, definition of shrinkage',
    });
    expectClose(change(100, 0.5, 0, 'Sitka spruce', 'radial').changeMm, moved.changeMm, {
      tol: 1e-9,
      source: 'wood-handbook, fibre saturation',
    });
  });

  it('the two formulas agree within a tenth between 6 and 14 % for every species that has both', () => {
    let compared = 0;
    for (const id of [
      'spruce-sitka',
      'maple-sugar',
      'walnut-black',
      'cherry-black',
      'alder-red',
      'maple-red',
    ]) {
      const species = findSpecies(id);
      const { change_radial_per_pct: c, shrinkage_radial_frac: s, ...rest } = species.values;
      if (!c || !s) continue;
      compared++;
      const bare = { ...species, values: { ...rest, shrinkage_radial_frac: s } };
      const byShrinkage = dimensionalChange(100, 0.08, 0.12, bare, 'radial') as Movement;
      const byCoefficient = dimensionalChange(100, 0.08, 0.12, species, 'radial') as Movement;
      expect(byShrinkage.formula).toBe('shrinkage');
      expectClose(byShrinkage.changeMm, byCoefficient.changeMm, {
        tol: byCoefficient.changeMm * 0.1,
        source: 'wood-handbook, two formulas for one thing',
      });
    }
    expect(compared).toBeGreaterThan(3);
  });

  it('the length moves a hundred times less than the width would', () => {
    const along = dimensionalChange(480, 0.085, 0.062, findSpecies('spruce-sitka'), 'along') as Movement;
    expect(along.isFromMemory).toBe(true);
    expectClose(along.changeMm, -480 * 0.023 * 0.005, { tol: 0.002, source: 'from memory' });
  });

  it('says so when a species has no value, and refuses dimensions that are none', () => {
    expect(isFinding(dimensionalChange(100, 0.08, 0.1, findSpecies('hemlock-western'), 'radial'))).toBe(true);
    expect(() => dimensionalChange(-1, 0.08, 0.1, findSpecies('spruce-sitka'), 'radial')).toThrow(RangeError);
  });
});

describe('species', () => {
  it('are found with their words either way round, and near ones are named', () => {
    expect(findSpecies('Sitka spruce').id).toBe('spruce-sitka');
    expect(findSpecies('spruce, sitka').id).toBe('spruce-sitka');
    expect(() => findSpecies('spruce, blue')).toThrow(/near it are .*spruce-engelmann/);
    expect(() => findSpecies('plastic')).toThrow(/No species is called plastic/);
  });
});
