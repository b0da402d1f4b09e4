import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { plateCommand } from './plate.ts';

const folder = mkdtempSync(join(tmpdir(), 'plate-'));
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

const problem = {
  plate: {
    outline: { kind: 'rectangle', alongMm: 500, acrossMm: 400 },
    thicknessMm: 2.8,
    material: {
      eAlongMPa: 11000,
      eAcrossMPa: 850,
      shearMPa: 750,
      poissonAlongAcross: 0.37,
      densityKgPerM3: 420,
    },
    holes: [],
  },
  bars: [],
  support: { bending: 'hinged', inPlane: 'pinned' },
  loads: [{ kind: 'force', atMm: [0, 0], newtons: 10 }],
  modes: 3,
};

describe('plate command', () => {
  it('prints the answer in the form of the plate problem', () => {
    expect(plateCommand(file('a.json', JSON.stringify(problem)), { check: true, json: true })).toBe(0);
    const answer = JSON.parse(out);
    expectClose(answer.frequenciesHz[0], 34.065, { tol: 0.02, source: 'orthotropic-navier' });
    expectClose(answer.loads[0].deflectionMm, 4.3045, { tol: 0.02, source: 'orthotropic-navier' });
    expect(answer.estimatedErrorFrac).toBeLessThan(0.01);
    expect(Object.keys(answer.elapsedMs)).toEqual(['mesh', 'assemble', 'factor', 'static', 'modes']);
    expect(answer.unknowns).toBeGreaterThan(500);
    expect(answer.meshMm).toBeGreaterThan(5);
  });

  it('prints plain words without --json', () => {
    expect(plateCommand(file('b.json', JSON.stringify(problem)), { check: false, json: false })).toBe(0);
    expect(out).toMatch(/^mode 1: 34\.0\d Hz/);
  });

  it('refuses in one sentence with exit 2', () => {
    const bad = { ...problem, plate: { ...problem.plate, thicknessMm: -1 } };
    const files = [
      file('c.json', '{"plate": '),
      file('d.json', JSON.stringify(bad)),
      join(folder, 'missing.json'),
    ];
    for (const path of files) {
      err = '';
      expect(plateCommand(path, { check: false, json: true })).toBe(2);
      expect(err.trim().split('\n')).toHaveLength(1);
    }
    expect(out).toBe('');
  });
});
