import { readFileSync } from 'node:fs';
import { allRules } from '../src/figures/catalogue.ts';
import { givenInputs } from '../src/figures/inputs.ts';
import { patternCatalogue } from '../src/figures/pattern-sheet.ts';
import { judgeAll } from '../src/graph/remedy.ts';
import { evaluate, numberOf } from '../src/graph/sheet.ts';
import { readPattern } from '../src/pattern/pattern-file.ts';
import { middleOf } from './_middle.ts';

/** Dragging one number of the outline: all light figures and rules within this, in the middle of many. */
const DRAG_LIMIT_MS = 4;
/** A sheet from nothing within this, in the middle of several. */
const COLD_LIMIT_MS = 60;
const DRAG_COUNT = 400;
const COLD_COUNT = 15;

const patterns = ['small-steel-string', 'nylon-string', 'tenor-ukulele'];
const dragged = ['body.lower_bout.width', 'body.waist.y', 'hole.radius', 'brace.x.crossing_y'];

interface Row {
  readonly name: string;
  readonly middleMs: number;
  readonly limitMs: number;
  readonly checksum: number;
}

function coldRow(name: string, inputs: ReadonlyMap<string, unknown>): Row {
  const times: number[] = [];
  let checksum = 0;
  for (let i = 0; i < COLD_COUNT; i++) {
    const start = performance.now();
    const sheet = evaluate(patternCatalogue, { inputs });
    const judged = judgeAll(sheet, allRules);
    times.push(performance.now() - start);
    checksum += (numberOf(sheet, 'outline.half_perimeter') ?? 0) + judged.length;
  }
  return { name: `${name}: sheet from nothing`, middleMs: middleOf(times), limitMs: COLD_LIMIT_MS, checksum };
}

function dragRow(name: string, inputs: ReadonlyMap<string, unknown>, id: string): Row | undefined {
  const from = inputs.get(id);
  if (typeof from !== 'number') return undefined;
  const times: number[] = [];
  let checksum = 0;
  let sheet = evaluate(patternCatalogue, { inputs });
  for (let i = 1; i <= DRAG_COUNT; i++) {
    const moved = new Map(inputs).set(id, from + 3 * Math.sin(i / 20));
    const start = performance.now();
    sheet = evaluate(patternCatalogue, { inputs: moved }, sheet);
    const judged = judgeAll(sheet, allRules);
    times.push(performance.now() - start);
    checksum += (numberOf(sheet, 'brace.clear_of_hole') ?? 0) + judged.length;
  }
  return { name: `${name}: drag ${id}`, middleMs: middleOf(times), limitMs: DRAG_LIMIT_MS, checksum };
}

/** Prints how long a sheet takes from nothing and after one number of the outline, hole or X has moved. */
export function run(): Promise<void> {
  console.log(`${patternCatalogue.ordered.length} figures and inputs, ${allRules.length} rules`);
  let isSlow = false;
  for (const name of patterns) {
    const text = readFileSync(new URL(`../data/patterns/${name}.yaml`, import.meta.url), 'utf8');
    const inputs = givenInputs(readPattern(text));
    const rows = [coldRow(name, inputs), ...dragged.map((id) => dragRow(name, inputs, id))];
    for (const row of rows) {
      if (!row) continue;
      const isOver = row.middleMs > row.limitMs;
      isSlow ||= isOver;
      console.log(
        `${row.name.padEnd(52)} ${row.middleMs.toFixed(2).padStart(7)} ms  limit ${row.limitMs}  ${isOver ? 'OVER' : 'met'}  (${row.checksum.toFixed(3)})`,
      );
    }
  }
  if (isSlow) process.exitCode = 1;
  return Promise.resolve();
}
