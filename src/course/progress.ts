import { HOUR_MS } from '../quantity/time.ts';
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

interface Known {
  readonly nowMs: number;
  readonly plan: PlannedRoute;
  readonly restBy: 'least' | 'usual';
  readonly found: ReadonlyMap<string, StepProgress>;
}

/** The last answer for each build: the pages of one moment ask for it many times. Facts never change in place. */
const known = new WeakMap<BuildFacts, Known>();

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
  const before = known.get(build);
  if (before?.nowMs === nowMs && before.plan === plan && before.restBy === state.restBy) return before.found;
  const found = computeProgress(state, plan, build, nowMs);
  known.set(build, { nowMs, plan, restBy: state.restBy, found });
  return found;
}

const holdsOf = new WeakMap<readonly HoldPoint[], ReadonlyMap<string, HoldPoint>>();

function holdMap(holds: readonly HoldPoint[]): ReadonlyMap<string, HoldPoint> {
  let map = holdsOf.get(holds);
  if (!map) holdsOf.set(holds, (map = new Map(holds.map((h) => [h.op, h]))));
  return map;
}

function computeProgress(
  state: ClassState,
  plan: PlannedRoute,
  build: BuildFacts,
  nowMs: number,
): ReadonlyMap<string, StepProgress> {
  const holds = holdMap(state.route.holdPoints);
  const found = new Map<string, StepProgress>();
  const inClamps = new Set([...build.clamps.values()].map((c) => c.op));
  const look: Look = { plan, build, nowMs, restBy: state.restBy, found, inClamps };
  for (const p of plan.operations) found.set(p.op.id, stepProgress(look, p, holds.get(p.op.id)));
  return found;
}

interface Look {
  readonly plan: PlannedRoute;
  readonly build: BuildFacts;
  readonly nowMs: number;
  readonly restBy: 'least' | 'usual';
  readonly found: ReadonlyMap<string, StepProgress>;
  /** Operations with something in clamps. */
  readonly inClamps: ReadonlySet<string>;
}

type Draft = { -readonly [K in keyof StepProgress]: StepProgress[K] };

function stepProgress(look: Look, p: PlannedOperation, hold: HoldPoint | undefined): StepProgress {
  const { build } = look;
  const id = p.op.id;
  const fact = build.operations.get(id);
  const doneCount = fact || look.inClamps.has(id) ? countDone(build, p, fact) : 0;
  const draft: Draft = { op: id, state: 'not ready', doneCount, partCount: p.parts.length };
  if (fact?.skipped !== undefined) draft.state = 'skipped';
  else if (build.repairs.length > 0 && isToRepair(build, id)) draft.state = 'to repair';
  else {
    if (hold && isUnsigned(build, hold, fact)) draft.sign = hold;
    const next = doneCount < p.parts.length ? nextPart(build, p, doneCount) : undefined;
    if (!next) {
      draft.doneMs = operationDoneMs(build, p) as number;
      draft.state = draft.sign ? 'to sign' : 'done';
    } else {
      draft.next = next;
      const part = fact?.parts.get(next.id) ?? fact?.parts.get('all');
      if (part?.startedMs !== undefined && part.doneMs === undefined) draft.state = 'running';
      else readiness(look, p, draft);
    }
  }
  return draft;
}

function nextPart(build: BuildFacts, p: PlannedOperation, doneCount: number): PlannedPart | undefined {
  if (doneCount === 0) return p.parts[0];
  return p.parts.find((x) => partDoneMs(build, p.op.id, x.id) === undefined);
}

function countDone(build: BuildFacts, p: PlannedOperation, fact: OperationFact | undefined): number {
  if (fact?.doneMs !== undefined) return p.parts.length;
  return p.parts.filter((x) => partDoneMs(build, p.op.id, x.id) !== undefined).length;
}

/** Fills in whether the next part may begin: what comes before done and rested, or the part before it rested. */
function readiness(look: Look, p: PlannedOperation, draft: Draft): void {
  let until = noRest;
  if (draft.doneCount === 0)
    for (const link of p.before) {
      const before = look.found.get(link.from)?.state;
      if (before !== 'done' && before !== 'skipped') {
        draft.waitsFor = link.from;
        return;
      }
      if (link.usualH > 0) until = later(until, restEnd(look, link.from, undefined, link));
    }
  else {
    const last = p.parts.findLast((x) => partDoneMs(look.build, p.op.id, x.id) !== undefined) as PlannedPart;
    if (last.rest) until = restEnd(look, p.op.id, last.id, last.rest);
  }
  const untilMs = look.restBy === 'least' ? until.leastMs : until.usualMs;
  draft.state = untilMs > look.nowMs ? 'resting' : 'ready';
  if (draft.state === 'ready') return;
  draft.untilMs = untilMs;
  draft.usualMs = until.usualMs;
}

const noRest: RestEnd = { leastMs: 0, usualMs: 0 };

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
  return { leastMs: fromMs + hours.leastH * HOUR_MS, usualMs: fromMs + hours.usualH * HOUR_MS };
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
