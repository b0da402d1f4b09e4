import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** What ezdxf finds in a DXF file and measures there, mm, y up. */
export interface SecondReading {
  readonly version: string;
  readonly units: number;
  readonly errors: readonly string[];
  readonly fixes: readonly string[];
  /** Line type and line width (hundredths of a mm) by layer. */
  readonly layers: Readonly<Record<string, readonly [string, number]>>;
  /** Layer, centre, radius. */
  readonly circles: readonly (readonly [string, number, number, number])[];
  /** Layer, start, end. */
  readonly lines: readonly (readonly [string, number, number, number, number])[];
  readonly splines: readonly MeasuredShape[];
  readonly polylines: readonly (MeasuredShape & { readonly closed: boolean; readonly bulges: number })[];
  /** Layer, words, height, rotation in degrees. */
  readonly texts: readonly (readonly [string, string, number, number])[];
}

/** The box of a curve; `length` of splines only. */
export interface MeasuredShape {
  readonly layer: string;
  readonly centre: readonly [number, number];
  readonly width: number;
  readonly height: number;
  readonly length: number;
}

const PYTHON = ['/usr/bin/python3', 'python3'].find(
  (python) => spawnSync(python, ['-c', 'import ezdxf']).status === 0,
);

/** Whether the second reader is there. When it is not, says so in one line; in CI that is a failure. */
export function hasSecondReader(): boolean {
  if (PYTHON !== undefined) return true;
  const why = 'not run: DXF by its second reader, because python3-ezdxf is not installed';
  if (process.env['CI'] !== undefined) throw new Error(why);
  console.log(why);
  return false;
}

/** Reads a DXF file with ezdxf. @throws Error with what the reader said when it cannot */
export function readWithSecondReader(dxf: string): SecondReading {
  if (PYTHON === undefined) throw new Error('ask hasSecondReader first');
  const folder = mkdtempSync(join(tmpdir(), 'dxf-'));
  try {
    writeFileSync(join(folder, 'a.dxf'), dxf);
    const script = fileURLToPath(new URL('read-dxf.py', import.meta.url));
    const run = spawnSync(PYTHON, [script, join(folder, 'a.dxf')], { encoding: 'utf8' });
    if (run.status !== 0) throw new Error(run.stderr);
    return JSON.parse(run.stdout) as SecondReading;
  } finally {
    rmSync(folder, { recursive: true });
  }
}
