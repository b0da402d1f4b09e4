import { isFinding } from '../quantity/finding.ts';
import { InputError } from '../quantity/input-error.ts';
import { type LengthField, parseLength, requireLengthMm, requireQuantity } from '../quantity/length.ts';
import { formatDecimal, formatMm } from '../quantity/print-length.ts';
import type { ReadsBy } from '../settings/machine-rounding.ts';
import { type Pass, type PassPlan, passPlan, passPlanText } from '../settings/pass-plan.ts';
import { say, sayJson } from './door.ts';

/** Options of `pass-plan`, as typed. Lengths without a unit are millimetres. */
export interface PassPlanOptions {
  readonly start: string;
  readonly target: string;
  readonly perPass: string;
  readonly lastPerPass?: string;
  readonly lastPasses?: string;
  readonly alpha?: string;
  readonly beta?: string;
  readonly faces?: string;
  readonly low?: string;
  readonly json?: boolean;
}

const thickness = (what: string): LengthField => ({ unit: 'mm', lowMm: 0.3, highMm: 120, what });
const cut = (what: string): LengthField => ({ unit: 'mm', lowMm: 0.01, highMm: 3, what });

function countOf(text: string | undefined, what: string): number {
  if (text === undefined) return 0;
  const value = requireQuantity(text, { kind: 'count', unit: 'count', low: 0, high: 20, what });
  if (!Number.isInteger(value))
    throw new InputError(
      'not-whole',
      `${what} is "${text}", and it must be a whole number between 0 and 20.`,
    );
  return value;
}

function facesOf(text: string | undefined): 'alternate' | 'one' {
  if (text === undefined || text === 'alternate') return 'alternate';
  if (text === 'one') return 'one';
  throw new InputError('unknown-choice', `--faces is "${text}", and it must be alternate or one.`);
}

/** The machine that the numbers are for: the unit is the one the target was written in. */
function machineOf(options: PassPlanOptions): ReadsBy {
  const parsed = parseLength(options.target, thickness('--target'));
  const unit = parsed.kind === 'length' ? parsed.unit : 'mm';
  const alphaMm = requireLengthMm(options.alpha ?? '0', {
    unit: 'mm',
    lowMm: -3,
    highMm: 3,
    what: '--alpha',
  });
  const beta = requireQuantity(options.beta ?? '1', {
    kind: 'count',
    unit: 'count',
    low: 0.8,
    high: 1.25,
    what: '--beta',
  });
  return {
    unit,
    reads: { kind: 'digital', stepMm: unit === 'in' ? 0.0254 : 0.01 },
    offset: { alphaMm, beta },
  };
}

/** The plan that the options ask for. @throws InputError with one sentence */
function planOf(options: PassPlanOptions): PassPlan {
  const plan = passPlan({
    startMm: requireLengthMm(options.start, thickness('--start')),
    targetMm: requireLengthMm(options.target, thickness('--target')),
    perPassMm: requireLengthMm(options.perPass, cut('--per-pass')),
    ...(options.lastPerPass === undefined
      ? {}
      : { lastPerPassMm: requireLengthMm(options.lastPerPass, cut('--last-per-pass')) }),
    lastPassesCount: countOf(options.lastPasses, '--last-passes'),
    machine: machineOf(options),
    faces: facesOf(options.faces),
    ...(options.low === undefined ? {} : { lowMm: requireLengthMm(options.low, thickness('--low')) }),
  });
  if (isFinding(plan)) throw new InputError(plan.code, plan.text);
  return plan;
}

const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals));

const passJson = (p: Pass): object => ({
  n: p.n,
  thickness_mm: rounded(p.thicknessMm, 4),
  type_mm: rounded(p.typeMm, 4),
  type_in: rounded(p.typeIn, 4),
  face: p.face,
});

const FACE_WORDS: Readonly<Record<Pass['face'], string>> = { A: 'face A', B: 'face B', inside: 'inside' };

/**
 * `pass-plan`: the numbers to type at the thickness sander.
 *
 * @returns exit code 0
 * @throws InputError with one sentence when the numbers make no plan
 */
export function passPlanCommand(options: PassPlanOptions): number {
  const plan = planOf(options);
  if (options.json) {
    sayJson({
      passes: plan.passes.map(passJson),
      after_first: plan.afterFirstCount,
      left_mm: rounded(plan.leftMm, 4),
    });
    return 0;
  }
  for (const p of plan.passes)
    say(
      `${String(p.n).padStart(3)}  type ${formatMm(p.typeMm, 2)} mm  ${formatDecimal(p.typeIn, 3)} in  ${FACE_WORDS[p.face].padEnd(7)} takes ${formatMm(p.cutMm, 2)} mm`,
    );
  say(`${passPlanText(plan)}.`);
  if (plan.note) say(plan.note);
  return 0;
}
