import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { allRules } from '../src/figures/catalogue.ts';
import { sheetOfPattern } from '../src/figures/pattern-sheet.ts';
import { judgeAll } from '../src/graph/remedy.ts';
import { numberOf, type Sheet } from '../src/graph/sheet.ts';
import type { Pattern } from '../src/pattern/pattern.ts';
import { readPattern } from '../src/pattern/pattern-file.ts';
import { middleOf } from './_middle.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
const pattern = readPattern(readFileSync(path.join(root, 'data/patterns/small-steel-string.yaml'), 'utf8'));

function say(name: string, got: number, limit: number, unit: string, more: string): void {
  const verdict = got < limit ? 'met' : 'broken';
  console.log(
    `${name.padEnd(38)} ${got.toFixed(unit === 'kB' ? 0 : 2).padStart(9)} ${unit}  limit ${limit} ${unit}: ${verdict}  (${more})`,
  );
}

/** Time of the clock and of the processor for one turn of work, ms; the checksum is taken outside the clock. */
function timed<T>(work: () => T): { readonly value: T; readonly clockMs: number; readonly cpuMs: number } {
  const cpu = process.cpuUsage();
  const begun = performance.now();
  const value = work();
  const clockMs = performance.now() - begun;
  const used = process.cpuUsage(cpu);
  return { value, clockMs, cpuMs: (used.user + used.system) / 1000 };
}

const DRAG_COUNT = 300;

const withLowerBout = (from: Pattern, mm: number): Pattern => ({
  ...from,
  numbers: new Map(from.numbers).set('body.lower_bout.width', mm),
});

/** A bout is dragged back and forth in steps of 0.1 mm: all light figures and all rules each time. */
function drag(): void {
  let sheet: Sheet = sheetOfPattern(pattern);
  const times: number[] = [];
  const cpu: number[] = [];
  let checksum = 0;
  for (let i = 0; i < DRAG_COUNT; i++) {
    const moved = withLowerBout(pattern, 370 + Math.abs((i % 40) - 20) / 10);
    const { value, clockMs, cpuMs } = timed(() => {
      const next = sheetOfPattern(moved, { previous: sheet });
      return { next, judged: judgeAll(next, allRules) };
    });
    sheet = value.next;
    if (i >= DRAG_COUNT / 3) {
      times.push(clockMs);
      cpu.push(cpuMs);
    }
    checksum += (numberOf(sheet, 'outline.half_perimeter') ?? 0) + value.judged.length;
  }
  say(
    'drag: figures and rules, median',
    middleOf(times),
    4,
    'ms',
    `${middleOf(cpu).toFixed(2)} ms of processor; checksum ${checksum.toFixed(3)}`,
  );
}

const RUN_COUNT = 9;

/** A sheet in a fresh process, modules loaded, nothing computed before. */
function coldSheet(): void {
  const script = `
    const { readFileSync } = await import('node:fs');
    const { sheetOfPattern } = await import('./src/figures/pattern-sheet.ts');
    const { judgeAll } = await import('./src/graph/remedy.ts');
    const { allRules } = await import('./src/figures/catalogue.ts');
    const { readPattern } = await import('./src/pattern/pattern-file.ts');
    const text = readFileSync('data/patterns/small-steel-string.yaml', 'utf8');
    const before = process.cpuUsage();
    const begun = performance.now();
    const sheet = sheetOfPattern(readPattern(text));
    const judged = judgeAll(sheet, allRules);
    const ms = performance.now() - begun;
    const cpu = process.cpuUsage(before);
    console.log(JSON.stringify({ ms, cpuMs: (cpu.user + cpu.system) / 1000, checksum: sheet.cells.length + judged.length }));`;
  const runs = Array.from({ length: RUN_COUNT }, () => {
    const args = ['--import', 'tsx', '--input-type=module', '--eval', script];
    const run = spawnSync(process.execPath, args, { cwd: root, encoding: 'utf8' });
    if (run.status !== 0) throw new Error(run.stderr);
    return JSON.parse(run.stdout) as {
      readonly ms: number;
      readonly cpuMs: number;
      readonly checksum: number;
    };
  });
  const sum = runs.reduce((all, { checksum }) => all + checksum, 0);
  say(
    'cold sheet: pattern, figures, rules',
    middleOf(runs.map(({ ms }) => ms)),
    60,
    'ms',
    `${middleOf(runs.map(({ cpuMs }) => cpuMs)).toFixed(0)} ms of processor; checksum ${sum}`,
  );
}

/** Median clock time of the command as a whole process. */
function command(
  name: string,
  limitMs: number,
  args: readonly string[],
  sizeOf: (out: string) => number,
): void {
  const times: number[] = [];
  let checksum = 0;
  for (let i = 0; i < RUN_COUNT; i++) {
    const begun = performance.now();
    const run = spawnSync(process.execPath, [path.join(root, 'bracewright'), ...args], {
      cwd: root,
      encoding: 'utf8',
      maxBuffer: 1 << 26,
    });
    times.push(performance.now() - begun);
    if (run.status !== 0) throw new Error(run.stderr);
    checksum += sizeOf(run.stdout);
  }
  say(name, middleOf(times), limitMs, 'ms', `${checksum} bytes in ${RUN_COUNT} runs`);
}

/** What the page loads before it shows anything: index.html and the scripts and styles it names, compressed. */
function firstLoad(): void {
  const page = path.join(root, 'dist/web/index.html');
  if (!existsSync(page)) {
    console.log('not run: first load of the page, because dist/web is not built; npm run bench builds it');
    return;
  }
  const html = readFileSync(page, 'utf8');
  const seen = new Set<string>();
  const take = (name: string): void => {
    if (seen.has(name)) return;
    seen.add(name);
    if (!name.endsWith('.js')) return;
    const script = readFileSync(path.join(root, 'dist/web/assets', name), 'utf8');
    // what a script imports outright comes with the first load; what it asks for later does not
    const outright = /(?:^|[;}\n])\s*(?:import|export)\s*(?:[^'"();]*?from\s*)?["']\.\/([\w.-]+\.js)["']/g;
    for (const [, next] of script.matchAll(outright)) if (next !== undefined) take(next);
  };
  for (const [, name] of html.matchAll(/(?:src|href)="\/assets\/([^"]+)"/g))
    if (name !== undefined) take(name);
  const bytes = [...seen].reduce(
    (sum, name) => sum + gzipSync(readFileSync(path.join(root, 'dist/web/assets', name))).length,
    gzipSync(html).length,
  );
  say('first load of the page, gzip', bytes / 1000, 300, 'kB', [...seen].join(', '));
}

/** Prints the speeds that the page and the command line are held to. */
export async function run(): Promise<void> {
  console.log('small steel-string; middle of several runs; other work on the machine makes the clock slower');
  drag();
  coldSheet();
  command('sheet, whole process', 600, ['sheet', 'small-steel-string', '--json'], (out) => out.length);
  const folder = mkdtempSync(path.join(tmpdir(), 'pack-'));
  try {
    const out = path.join(folder, 'all.pdf');
    const args = [
      'draw',
      'small-steel-string',
      '--what',
      'all',
      '--format',
      'pdf',
      '--paper',
      'a4',
      '--out',
      out,
    ];
    command('all drawings as PDF, whole process', 3000, args, () => statSync(out).size);
  } finally {
    rmSync(folder, { recursive: true });
  }
  firstLoad();
}
