import { beforeEach, describe, expect, it, vi } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { InputError } from '../quantity/input-error.ts';
import { moistureCommand } from './moisture.ts';

let out = '';
beforeEach(() => {
  out = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    out += String(text);
    return true;
  });
  return () => {
    vi.restoreAllMocks();
  };
});

describe('moisture on the command line', () => {
  it('gives moisture and movement as the form says', () => {
    const options = {
      temperature: '21',
      humidity: '45',
      toHumidity: '30',
      species: 'spruce-sitka',
      width: '370',
    };
    expect(moistureCommand({ ...options, json: true })).toBe(0);
    const answer = JSON.parse(out) as {
      emc_frac: number;
      movement: { direction: string; width_mm: number; change_mm: number }[];
    };
    expectClose(answer.emc_frac, 0.085, { tol: 0.0008, source: 'wood-handbook, Table 4-2' });
    const radial = answer.movement.find((m) => m.direction === 'radial');
    expect(radial?.width_mm).toBe(370);
    expectClose(radial?.change_mm, -1.26, { tol: 0.03, source: 'wood-handbook, Table 13-5, from memory' });
  });

  it('marks in words what is remembered, and takes a comma', () => {
    moistureCommand({ temperature: '20,5', humidity: '45 %', toHumidity: '60' });
    expect(out).toMatch(/spruce-sitka +quartered +370 mm +\+1\.\d+ mm \(from memory\)/);
    expect(out).toMatch(/maple-sugar +flat-sawn +370 mm +\+3\.\d+ mm\n/);
  });

  it.each([
    [{ temperature: '21', humidity: '145' }, /Humidity is 145 %/],
    [{ temperature: '21', humidity: '45', species: 'plastic' }, /No species is called plastic/],
    [{ temperature: 'warm', humidity: '45' }, /--temperature is warm/],
    [{ temperature: '21', humidity: '45', width: '-3' }, /--width is -3 mm/],
  ])('refuses %j', (options, sentence) => {
    expect(() => moistureCommand(options)).toThrow(InputError);
    expect(() => moistureCommand(options)).toThrow(sentence);
    expect(out).toBe('');
  });
});
