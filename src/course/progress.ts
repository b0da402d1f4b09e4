import type { PlannedOperation, PlannedPart, PlannedRoute } from '../route/planned-route.ts';
import type { HoldPoint } from '../route/route-types.ts';
import type { BuildFacts, OperationFact } from './build-facts.ts';
import { type ClassState, planOf } from './class-state.ts';

export type StepState =
  | 'not ready'
  | 'ready'
  | 'running'
  | 'resting'
  | 'to sign'
  | 'done'
  | 'to repair'
  | 'skipped';

/** Where one operation of a build stands. */
export interface StepProgress {
  readonly op: string;
  readonly state: StepState;
  /** The part that comes next, when any is left. */
  readonly next?: PlannedPart;
  readonly doneCount: number;
  readonly partCount: number;
  readonly doneMs?: number;
  /** Resting: when it may go on at the earliest and when it usually does. */
  readonly untilMs?: number;
  readonly usualMs?: number;
  /** Not ready: the operation waited for. */
  readonly waitsFor?: string;
  /** A signature that is missing: before the work starts or before anything follows. */
  readonly sign?: HoldPoint;
}

const hourMs = 3_600_000;

/**
 * Where every operation of a build stands at a moment.
 *
 * @param state  the class
 * @param build  facts of the build
 * @param nowMs  the moment
 * @returns      by operation id, in an order that respects the route
 * @source       common practice, no published source
 */
export function progressOf(
  state: ClassState,
  build: BuildFacts,
  nowMs: number,
): ReadonlyMap<string, StepProgress> {
  const plan = planOf(state, build);
  const holds = new Map(state.route.holdPoints.map((h) => [h.op, h]));
  const found = new Map<string, StepProgress>();
  for (const p of plan.operations)
    found.set(
      p.op.id,
      stepProgress({ plan, build, nowMs, restBy: state.restBy, found }, p, holds.get(p.op.id)),
    );
  return found;
}

interface Look {
  readonly plan: PlannedRoute;
  readonly build: BuildFacts;
  readonly nowMs: number;
  readonly restBy: 'least' | 'usual';
  readonly found: ReadonlyMap<string, StepProgress>;
}

function stepProgress(look: Look, p: PlannedOperation, hold: HoldPoint | undefined): StepProgress {
  const fact = look.build.operations.get(p.op.id);
  const doneCount = p.parts.filter((x) => partDoneMs(look.build, p.op.id, x.id) !== undefined).length;
  const base = { op: p.op.id, doneCount, partCount: p.parts.length };
  if (fact?.skipped !== undefined) return { ...base, state: 'skipped' };
  if (isToRepair(look.build, p.op.id)) return { ...base, state: 'to repair' };
  const sign = hold && isUnsigned(look.build, hold, fact) ? { sign: hold } : {};
  const next = p.parts.find((x) => partDoneMs(look.build, p.op.id, x.id) === undefined);
  if (!next) {
    const doneMs = operationDoneMs(look.build, p) as number;
    return { ...base, ...sign, doneMs, state: sign.sign ? 'to sign' : 'done' };
  }
  const begun = { ...base, ...sign, next };
  const part = fact?.parts.get(next.id) ?? fact?.parts.get('all');
  if (part?.startedMs !== undefined && part.doneMs === undefined) return { ...begun, state: 'running' };
  return { ...begun, ...readiness(look, p, doneCount) };
}

function readiness(
  look: Look,
  p: PlannedOperation,
  doneCount: number,
): Pick<StepProgress, 'state' | 'waitsFor' | 'untilMs' | 'usualMs'> {
  let until = { leastMs: 0, usualMs: 0 };
  if (doneCount === 0)
    for (const link of p.before) {
      const before = look.found.get(link.from);
      if (before?.state !== 'done' && before?.state !== 'skipped')
        return { state: 'not ready', waitsFor: link.from };
      until = later(until, restEnd(look, link.from, undefined, link));
    }
  else {
    const last = p.parts
      .filter((x) => partDoneMs(look.build, p.op.id, x.id) !== undefined)
      .at(-1) as PlannedPart;
    if (last.rest) until = restEnd(look, p.op.id, last.id, last.rest);
  }
  const untilMs = look.restBy === 'least' ? until.leastMs : until.usualMs;
  if (untilMs > look.nowMs) return { state: 'resting', untilMs, usualMs: until.usualMs };
  return { state: 'ready' };
}

interface RestEnd {
  readonly leastMs: number;
  readonly usualMs: number;
}

function later(a: RestEnd, b: RestEnd): RestEnd {
  return { leastMs: Math.max(a.leastMs, b.leastMs), usualMs: Math.max(a.usualMs, b.usualMs) };
}

/** The rest of an operation, or of one of its parts, counted from what went into clamps or was done. */
function restEnd(
  look: Look,
  op: string,
  part: string | undefined,
  hours: { readonly leastH: number; readonly usualH: number },
): RestEnd {
  const p = look.plan.byId.get(op);
  if (!p) return { leastMs: 0, usualMs: 0 };
  const fromMs = restStartMs(look.build, p, part) ?? Number.NEGATIVE_INFINITY;
  return { leastMs: fromMs + hours.leastH * hourMs, usualMs: fromMs + hours.usualH * hourMs };
}

/**
 * When a rest began. Work done before the record began has rested, unless it was told to be in clamps.
 *
 * @source common practice, no published source
 */
export function restStartMs(build: BuildFacts, p: PlannedOperation, part?: string): number | undefined {
  const partId = part ?? p.parts.at(-1)?.id ?? 'all';
  const clamp =
    build.clamps.get(`${p.op.id}/${partId}`) ??
    (part === undefined ? build.clamps.get(`${p.op.id}/all`) : undefined);
  if (clamp) return clamp.sinceMs;
  if (build.operations.get(p.op.id)?.before) return undefined;
  return part === undefined ? operationDoneMs(build, p) : partDoneMs(build, p.op.id, part);
}

/** When a part was done; what is in clamps is done. */
export function partDoneMs(build: BuildFacts, op: string, part: string): number | undefined {
  const fact = build.operations.get(op);
  return (
    fact?.doneMs ??
    fact?.parts.get('all')?.doneMs ??
    fact?.parts.get(part)?.doneMs ??
    build.clamps.get(`${op}/${part}`)?.sinceMs ??
    build.clamps.get(`${op}/all`)?.sinceMs
  );
}

function operationDoneMs(build: BuildFacts, p: PlannedOperation): number | undefined {
  return Math.max(
    ...p.parts.map((x) => partDoneMs(build, p.op.id, x.id) ?? 0),
    build.operations.get(p.op.id)?.doneMs ?? 0,
  );
}

function isToRepair(build: BuildFacts, op: string): boolean {
  return build.repairs.some((r) => r.op === op && r.decision === 'repair' && r.doneMs === undefined);
}

function isUnsigned(build: BuildFacts, hold: HoldPoint, fact: OperationFact | undefined): boolean {
  if (fact?.before) return false;
  const signatures = build.signed.get(hold.op) ?? [];
  const people = new Set(signatures.map((s) => s.by)).size;
  return signatures.length < hold.signatures || people < hold.people;
}

/** Minutes of the route left in a build, and the longest chain of what is left, rests included. */
export function leftOf(
  plan: PlannedRoute,
  progress: ReadonlyMap<string, StepProgress>,
): { readonly likelyMin: number; readonly chainMin: number } {
  let likelyMin = 0;
  let chainMin = 0;
  for (const p of plan.operations) {
    const s = progress.get(p.op.id) as StepProgress;
    if (s.state === 'done' || s.state === 'skipped') continue;
    likelyMin += p.likelyMin * (1 - s.doneCount / s.partCount);
    chainMin = Math.max(chainMin, p.chainMin);
  }
  return { likelyMin, chainMin };
}
