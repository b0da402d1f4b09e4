import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { boardCommand } from './board.ts';

const folder = mkdtempSync(join(tmpdir(), 'board-'));
afterAll(() => rmSync(folder, { recursive: true }));
let out = '';
let err = '';
beforeEach(() => {
  [out, err] = ['', ''];
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    out += String(text);
    return true;
  });
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    err += String(text);
    return true;
  });
  return () => {
    vi.restoreAllMocks();
  };
});

function file(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

const yaml = `format: bracewright-board/1
name: board 7
species: spruce
length_mm: 530
width_mm: 205
thickness_mm: 4.2
mass_g: 182.5
bending: { span_mm: 480, weight_g: 500, deflection_mm: 0.78 }
`;

describe('board command', () => {
  it('reads YAML and prints snake case JSON', () => {
    expect(boardCommand(file('a.yaml', yaml), { json: true })).toBe(0);
    const answer = JSON.parse(out);
    const expected = (0.5 * 9.80665 * 480 ** 3) / (4 * 205 * 4.2 ** 3 * 0.78);
    expectClose(answer.e_along_mpa.value, expected, { tol: 1, source: 'beam-theory' });
    expect(answer.e_along_mpa.plus_minus).toBeGreaterThan(500);
    expect(answer.thickness.map((t: { rule: string }) => t.rule)).toEqual([
      'equal tilt',
      'cube root',
      'equal pitch',
      'equal f11',
    ]);
    expect(answer.pattern).toBe('Small steel-string');
  });

  it('tries the board in the whole top and says where the limits bind', () => {
    const read = (reference: string) => {
      out = '';
      const path = file('e.yaml', `${yaml}reference: { ${reference} }\n`);
      expect(boardCommand(path, { json: true, pattern: 'tenor-ukulele' })).toBe(0);
      const [tilt, root] = JSON.parse(out).thickness;
      return { tilt, root };
    };
    // this board has E along 11.95 GPa, near enough the reference of 11.6: equal tilt and cube root agree
    const near = read('thickness_mm: 2.8, e_along_gpa: 11.6, low_mm: 2, high_mm: 3');
    expectClose(near.tilt.wanted_mm, near.root.wanted_mm, { tol: 0.15, source: 'beam-theory' });
    expect(near.tilt.used_mm).toBe(near.tilt.wanted_mm);
    // against a board twice as stiff it wants to be thicker than allowed
    const stiff = read(
      'thickness_mm: 2, e_along_gpa: 22, e_across_gpa: 1.7, shear_gpa: 1.5, low_mm: 1.8, high_mm: 2.1',
    );
    expect(stiff.tilt.wanted_mm).toBeGreaterThan(2.1);
    expect(stiff.tilt.used_mm).toBe(2.1);
    expect(stiff.tilt.reason).toMatch(/^This board would want 2\.\d\d mm, thicker than 2\.1 mm: use 2\.1 mm/);
  });

  it('names a pattern that is not there', () => {
    expect(boardCommand(file('f.yaml', yaml), { json: true, pattern: 'no-such' })).toBe(2);
    expect(err).toMatch(
      /^There is no pattern file no-such; give a file, or one of the starting patterns: .*\.\n$/,
    );
  });

  it('prints plain words', () => {
    expect(boardCommand(file('b.yaml', yaml), { json: false })).toBe(0);
    expect(out).toMatch(/^board 7\nDensity: 400 \+- \d+ kg\/m3 \(measured\)/);
  });

  it('refuses in one sentence with exit 2', () => {
    const bad = [
      file('c.yaml', 'a: [1'),
      file('d.yaml', yaml.replace('182.5', '-3')),
      join(folder, 'none.yaml'),
    ];
    for (const path of bad) {
      err = '';
      expect(boardCommand(path, { json: true })).toBe(2);
      expect(err.trim().split('\n')).toHaveLength(1);
    }
    expect(out).toBe('');
  });
});
