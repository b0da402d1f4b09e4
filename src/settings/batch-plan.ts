import { type Finding, isFinding } from '../quantity/finding.ts';
import { formatInches, formatMm } from '../quantity/print-length.ts';
import { type Pass, type PassPlanInput, passPlan } from './pass-plan.ts';

/** One plate of a batch. */
export interface BatchPlate {
  readonly id: string;
  /** Thickest place, mm. */
  readonly thicknessMm: number;
  /** Low limit of this plate, mm. */
  readonly lowMm: number;
}

/** One number on the machine and what is fed at it. */
export interface BatchStep {
  readonly pass: Pass;
  /** Fed at this number, thickest first. */
  readonly feed: readonly string[];
  /** Thinner than the number, so that it would go through untouched: waits. */
  readonly wait: readonly string[];
  /** Taken out of the batch before this number, with the reason. */
  readonly out: readonly { readonly id: string; readonly reason: string }[];
}

/**
 * One row of numbers for a whole batch: plates sorted thickest first, the same number for all; a plate at its low limit
 * and one cut more drops out, and so does one that the last number would not touch.
 *
 * @param plates  the plates
 * @param input   as for one plate; `startMm` is the thickest plate
 * @returns       the steps; a finding when the numbers make none
 * @source        common practice, no published source
 */
export function batchPlan(
  plates: readonly BatchPlate[],
  input: Omit<PassPlanInput, 'startMm' | 'lowMm'>,
): readonly BatchStep[] | Finding {
  const sorted = [...plates].sort((a, b) => b.thicknessMm - a.thicknessMm || a.id.localeCompare(b.id));
  const thickest = sorted[0];
  if (!thickest) return [];
  const plan = passPlan({ ...input, startMm: thickest.thicknessMm });
  if (isFinding(plan)) return plan;
  const length = (valueMm: number): string =>
    input.machine?.unit === 'in' ? `${formatInches(valueMm)} in` : `${formatMm(valueMm, 2)} mm`;
  const nowMm = new Map(sorted.map((p) => [p.id, p.thicknessMm]));
  const gone = new Set<string>();
  const lastMm = plan.passes.at(-1)?.resultMm ?? 0;
  return plan.passes.map((pass, i) => {
    const out: { id: string; reason: string }[] = [];
    const feed: string[] = [];
    const wait: string[] = [];
    for (const plate of sorted) {
      if (gone.has(plate.id)) continue;
      const thickness = nowMm.get(plate.id) ?? 0;
      if (i === 0 && thickness <= lastMm + 1e-9) {
        gone.add(plate.id);
        const isUnder = thickness < plate.lowMm - 1e-9;
        out.push({
          id: plate.id,
          reason: `${length(thickness)} now and the last number leaves ${length(lastMm)}, so no cut is left in it${isUnder ? `; it is under its low limit ${length(plate.lowMm)}` : ''}`,
        });
      } else if (thickness <= pass.resultMm + 1e-9) wait.push(plate.id);
      else if (pass.resultMm <= plate.lowMm + 1e-9) {
        gone.add(plate.id);
        out.push({
          id: plate.id,
          reason: `${length(thickness)} now, low limit ${length(plate.lowMm)}: the next number ${pass.text} leaves it no wood above that limit`,
        });
      } else {
        feed.push(plate.id);
        nowMm.set(plate.id, pass.resultMm);
      }
    }
    return { pass, feed, wait, out };
  });
}
