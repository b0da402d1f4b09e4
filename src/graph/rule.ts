import { isFinding } from '../quantity/finding.ts';
import { type Figure, isAbsent } from './figure.ts';
import { cellOf, figureValue, isPending, type Sheet } from './sheet.ts';

/** The three words of judgement. */
export type Verdict = 'met' | 'doubtful' | 'broken';

/** A band; a side left out is open. */
export interface Band {
  readonly low?: number;
  readonly high?: number;
}

/** Limits as written in a rule: numbers or figures. */
export interface BandSpec {
  readonly low?: number | Figure<number>;
  readonly high?: number | Figure<number>;
}

/** A check over one figure. */
export interface Rule {
  readonly id: string;
  readonly label: string;
  readonly subject: Figure<number>;
  /** Beyond this it is broken. */
  readonly hard: BandSpec;
  /** Inside the hard limit; between the two it is doubtful. */
  readonly soft?: BandSpec;
  /** One sentence: why it matters. */
  readonly why: string;
  /** Inputs whose change can mend it, the best first. The amount is computed (`graph/remedy.ts`). */
  readonly remedies: readonly Remedy[];
  readonly source: string;
  /** Key of the place in the drawing that lights up. */
  readonly place?: string;
}

/** One way to mend a rule: change this input, this way if it matters. */
export interface Remedy {
  readonly input: Figure;
  readonly toward?: 'more' | 'less';
  /** Smallest step worth setting, unit of the input; default 0.1. */
  readonly step?: number;
}

/** A rule judged. */
export interface Judged {
  readonly rule: Rule;
  readonly state: Verdict | 'absent' | 'blocked' | 'pending';
  readonly value?: number;
  readonly hard: Band;
  readonly soft?: Band;
  /** Distance to the nearest hard limit, negative when broken; unit of the subject. */
  readonly marginAbs?: number;
  /** Why there is no verdict. */
  readonly reason?: string;
}

/**
 * Judges a number between limits.
 *
 * @param value          the number
 * @param hard           hard limits, same unit
 * @param soft           soft limits inside them, if the trade gives any
 * @param repeatability  of the tool it was measured with; 0 for computed numbers
 * @returns              met: inside both; doubtful: between them, or nearer to the hard limit than the tool repeats; broken: beyond the hard limit
 * @source               arithmetic
 */
export function judge(value: number, hard: Band, soft?: Band, repeatability = 0): Verdict {
  const slack = 1e-9;
  if (hard.low !== undefined && value < hard.low - slack) return 'broken';
  if (hard.high !== undefined && value > hard.high + slack) return 'broken';
  if (soft?.low !== undefined && value < soft.low - slack) return 'doubtful';
  if (soft?.high !== undefined && value > soft.high + slack) return 'doubtful';
  if (repeatability > 0) {
    if (hard.low !== undefined && value - hard.low < repeatability - slack) return 'doubtful';
    if (hard.high !== undefined && hard.high - value < repeatability - slack) return 'doubtful';
  }
  return 'met';
}

/** All figures a rule reads. */
export function figuresOfRule(rule: Rule): readonly Figure[] {
  const limits = [rule.hard.low, rule.hard.high, rule.soft?.low, rule.soft?.high];
  return [
    rule.subject,
    ...limits.filter((l): l is Figure<number> => typeof l === 'object'),
    ...rule.remedies.map((r) => r.input),
  ];
}

function bandOf(sheet: Sheet, spec: BandSpec): Band {
  const side = (limit: number | Figure<number> | undefined): number | undefined =>
    typeof limit === 'object' ? figureValue(sheet, limit) : limit;
  const low = side(spec.low);
  const high = side(spec.high);
  return { ...(low === undefined ? {} : { low }), ...(high === undefined ? {} : { high }) };
}

/**
 * Judges one rule on a sheet.
 *
 * @returns the verdict with the numbers; `absent`, `blocked` or `pending` with the reason when there is no number
 * @source  arithmetic
 */
export function judgeRule(sheet: Sheet, rule: Rule): Judged {
  const hard = bandOf(sheet, rule.hard);
  const soft = rule.soft && bandOf(sheet, rule.soft);
  const limits = { rule, hard, ...(soft ? { soft } : {}) };
  const cell = cellOf(sheet, rule.subject.id);
  if (isAbsent(cell)) return { ...limits, state: 'absent', reason: cell.reason };
  if (isFinding(cell)) return { ...limits, state: 'blocked', reason: cell.text };
  if (isPending(cell)) return { ...limits, state: 'pending', reason: 'still being computed' };
  const value = cell as number;
  if (hard.low === undefined && hard.high === undefined)
    return { ...limits, state: 'absent', value, reason: 'no limit for this instrument' };
  const margins = [
    ...(hard.low === undefined ? [] : [value - hard.low]),
    ...(hard.high === undefined ? [] : [hard.high - value]),
  ];
  return { ...limits, state: judge(value, hard, soft), value, marginAbs: Math.min(...margins) };
}
