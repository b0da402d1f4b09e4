import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { analysePlate, solvePlate } from '../src/mechanics/plate/analyse-plate.ts';
import { assemblePlate } from '../src/mechanics/plate/plate-assembly.ts';
import { layOut } from '../src/mechanics/plate/plate-layout.ts';
import { loadVectors } from '../src/mechanics/plate/plate-loads.ts';
import { meshPlate } from '../src/mechanics/plate/plate-mesh.ts';
import type { PlateProblem } from '../src/mechanics/plate/plate-problem.ts';
import { middleOf } from './_middle.ts';

const bar = { widthMm: 8, heightMm: 12, eMPa: 11000, shearMPa: 710, densityKgPerM3: 420 };

/** A plate with a hole, two load cases and ten modes, with or without bars that end on the rim. */
function problem(meshMm: number, hasBars: boolean): PlateProblem {
  return {
    plate: {
      outline: { kind: 'ellipse', semiAlongMm: 250, semiAcrossMm: 200 },
      thicknessMm: 2.8,
      material: {
        eAlongMPa: 11000,
        eAcrossMPa: 850,
        shearMPa: 750,
        poissonAlongAcross: 0.37,
        densityKgPerM3: 420,
      },
      holes: [{ kind: 'circle', centreMm: [90, 0], radiusMm: 50 }],
    },
    bars: hasBars
      ? [
          { ...bar, fromMm: [-200, -120], toMm: [150, 160] },
          { ...bar, fromMm: [-200, 120], toMm: [150, -160] },
        ]
      : [],
    support: { bending: 'clamped', inPlane: 'pinned' },
    loads: [
      { kind: 'force', atMm: [0, 0], newtons: 10 },
      { kind: 'couple', patchMm: { centreMm: [-130, 0], alongMm: 30, acrossMm: 180 }, newtonMetres: 6 },
    ],
    modes: 10,
    meshMm,
  };
}

const cases = [
  { name: '5,000 unknowns', problem: problem(15.4, false), limitMs: 250 },
  { name: '10,000 unknowns', problem: problem(10.2, false), limitMs: 600 },
  { name: 'with bars, coarse', problem: problem(60, true), limitMs: 600 },
  { name: '10,000 with bars', problem: problem(40, true), limitMs: 600 },
];
const runs = 5;

const nowMs = () => performance.now();

/** Times the plate engine in a warm process, middle of five, and beside a general sparse library where it is there. */
export async function run(): Promise<void> {
  console.log('mesh + assembly + factor + two loads + ten modes, one core, warm, middle of 5 (ms)');
  console.log(
    'case                unknowns   mesh  assemble  factor  static  modes   total   limit   checksum',
  );
  for (const one of cases) {
    for (let k = 0; k < 4; k++) analysePlate(one.problem);
    const times: number[] = [];
    const parts = {
      mesh: [] as number[],
      assemble: [] as number[],
      factor: [] as number[],
      static: [] as number[],
      modes: [] as number[],
    };
    let unknowns = 0;
    let checksum = 0;
    for (let k = 0; k < runs; k++) {
      const begun = nowMs();
      const answer = analysePlate(one.problem, { nowMs });
      times.push(nowMs() - begun);
      for (const key of ['mesh', 'assemble', 'factor', 'static', 'modes'] as const)
        parts[key].push(answer.elapsedMs[key]);
      unknowns = answer.unknowns;
      checksum = answer.frequenciesHz.reduce((sum, f) => sum + f, 0) + answer.loads[1]!.rotationDeg!;
    }
    const cell = (value: number, width: number) => value.toFixed(0).padStart(width);
    console.log(
      `${one.name.padEnd(20)}${cell(unknowns, 8)}${cell(middleOf(parts.mesh), 7)}${cell(middleOf(parts.assemble), 10)}${cell(middleOf(parts.factor), 8)}${cell(middleOf(parts.static), 8)}${cell(middleOf(parts.modes), 7)}${cell(middleOf(times), 8)}${cell(one.limitMs, 8)}   ${checksum.toFixed(6)}`,
    );
  }
  compareWithLibrary();
}

const script = `
import os, sys, time
os.environ['OMP_NUM_THREADS'] = '1'
import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu, eigsh, LinearOperator
d = sys.argv[1]
start = np.fromfile(d + '/start.bin', np.int32); row = np.fromfile(d + '/row.bin', np.int32); n = len(start) - 1
def full(name):
    low = csc_matrix((np.fromfile(d + '/' + name + '.bin', np.float64), row, start), shape=(n, n))
    up = low.T.tolil(); up.setdiag(0)
    return csc_matrix(low + csc_matrix(up))
K = full('k'); M = full('m'); F = np.fromfile(d + '/f.bin', np.float64).reshape(-1, n)
times = []
for r in range(5):
    t = time.perf_counter()
    lu = splu(K, permc_spec='MMD_AT_PLUS_A', options=dict(SymmetricMode=True), diag_pivot_thresh=0.0)
    x = [lu.solve(f) for f in F]
    v, _ = eigsh(K, k=10, M=M, sigma=0, OPinv=LinearOperator((n, n), matvec=lu.solve))
    times.append(time.perf_counter() - t)
print(1000 * sorted(times)[2], np.sum(np.sqrt(v) / 2 / np.pi))
`;

/** Factor, loads and modes only, on the same matrices, side by side in one run. */
function compareWithLibrary(): void {
  try {
    execFileSync('python3', ['-c', 'import scipy.sparse.linalg'], { stdio: 'ignore' });
  } catch {
    console.log(
      'not run: the comparison with a general sparse library, because python3-scipy is not installed.',
    );
    return;
  }
  console.log('\nfactor + two loads + ten modes on the same matrices (ms)');
  console.log('case                unknowns   here   scipy   ratio   limit 1.5   sums of frequencies');
  for (const one of cases) {
    const plateMesh = meshPlate(one.problem, one.problem.meshMm!);
    const layout = layOut(one.problem, plateMesh);
    const { model, covers, pieces } = layout;
    const matrices = assemblePlate(one.problem, model, covers, pieces);
    const times: number[] = [];
    let sum = 0;
    for (let k = 0; k < runs + 2; k++) {
      const begun = nowMs();
      const solved = solvePlate(one.problem, layout, matrices);
      times.push(nowMs() - begun);
      sum = solved.frequenciesHz.reduce((a, b) => a + b, 0);
    }
    const folder = mkdtempSync(join(tmpdir(), 'plate-bench-'));
    try {
      const write = (name: string, values: Int32Array | Float64Array) =>
        writeFileSync(
          join(folder, `${name}.bin`),
          new Uint8Array(values.buffer, values.byteOffset, values.byteLength),
        );
      write('start', model.pattern.columnStart);
      write('row', model.pattern.row);
      write('k', matrices.stiffness);
      write('m', matrices.mass);
      const forces = one.problem.loads.map((load) => loadVectors(one.problem, layout, load).force);
      write('f', Float64Array.from(forces.flatMap((force) => [...force])));
      const [ms, theirs] = execFileSync('python3', ['-c', script, folder], { encoding: 'utf8' })
        .trim()
        .split(' ')
        .map(Number);
      const own = middleOf(times.slice(2));
      console.log(
        `${one.name.padEnd(20)}${String(model.pattern.size).padStart(8)}${own.toFixed(0).padStart(7)}${ms!.toFixed(0).padStart(8)}${(own / ms!).toFixed(2).padStart(8)}               ${sum.toFixed(3)} ${theirs!.toFixed(3)}`,
      );
    } finally {
      rmSync(folder, { recursive: true });
    }
  }
}
