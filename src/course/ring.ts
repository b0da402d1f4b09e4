import type { BuildFacts } from './build-facts.ts';
import { buildsOf, type ClassState, planOf } from './class-state.ts';
import { leftOf, progressOf, type StepProgress } from './progress.ts';

export type SegmentState = 'untouched' | 'at work' | 'resting' | 'to sign' | 'to repair' | 'ready' | 'done';

/** One stage of the route in one build. */
export interface Segment {
  readonly stage: string;
  readonly name: string;
  /** Likely minutes of the stage in this build: the length of the segment. */
  readonly likelyMin: number;
  /** Share done, 0 to 1. */
  readonly doneFrac: number;
  readonly state: SegmentState;
  readonly untilMs?: number;
  /** A hold point of this stage lies ahead. */
  readonly holdAhead: boolean;
}

/** A build as a ring of stages. */
export interface Ring {
  readonly build: string;
  readonly segments: readonly Segment[];
  readonly doneFrac: number;
  readonly likelyMinLeft: number;
  readonly chainMinLeft: number;
}

/**
 * The ring of a build at a moment: 11 stages with the share done, what rests until when, holds ahead, what is to sign
 * or to repair.
 *
 * @param state  the class
 * @param build  id of the build
 * @param facts  of the build
 * @param nowMs  the moment
 * @source       common practice, no published source
 */
export function ringOf(state: ClassState, build: string, facts: BuildFacts, nowMs: number): Ring {
  const plan = planOf(state, facts);
  const progress = progressOf(state, facts, nowMs);
  const segments = state.route.stageOf.stages.map((stage) => {
    const ops = plan.operations.filter((p) => p.op.stage === stage.id);
    const steps = ops.map((p) => progress.get(p.op.id) as StepProgress);
    const likelyMin = ops.reduce((sum, p) => sum + p.likelyMin, 0);
    const doneMin = ops.reduce((sum, p, i) => sum + p.likelyMin * shareDone(steps[i] as StepProgress), 0);
    const until = steps.flatMap((s) => (s.state === 'resting' ? (s.untilMs ?? []) : []));
    return {
      stage: stage.id,
      name: stage.name,
      likelyMin,
      doneFrac: likelyMin === 0 ? 1 : doneMin / likelyMin,
      state: segmentState(steps),
      holdAhead: steps.some((s) => s.sign !== undefined && s.state !== 'done'),
      ...(until.length > 0 ? { untilMs: Math.min(...until) } : {}),
    };
  });
  const total = segments.reduce((sum, s) => sum + s.likelyMin, 0);
  const done = segments.reduce((sum, s) => sum + s.likelyMin * s.doneFrac, 0);
  const left = leftOf(plan, progress);
  return {
    build,
    segments,
    doneFrac: total === 0 ? 1 : done / total,
    likelyMinLeft: left.likelyMin,
    chainMinLeft: left.chainMin,
  };
}

function shareDone(s: StepProgress): number {
  if (s.state === 'skipped') return 1;
  return s.doneCount / s.partCount;
}

function segmentState(steps: readonly StepProgress[]): SegmentState {
  const has = (state: StepProgress['state']): boolean => steps.some((s) => s.state === state);
  if (has('to repair')) return 'to repair';
  if (has('running')) return 'at work';
  if (has('to sign')) return 'to sign';
  if (steps.every((s) => s.state === 'done' || s.state === 'skipped')) return 'done';
  if (has('ready')) return 'ready';
  if (has('resting')) return 'resting';
  return 'untouched';
}

/** One cell of the wall: a coarse step of one build. */
export interface WallCell {
  readonly step: string;
  readonly doneFrac: number;
  readonly state: SegmentState;
  /** Done before the record began, all of it. */
  readonly before: boolean;
}

/** The wall of coarse steps by learners. */
export interface Wall {
  readonly steps: readonly { readonly id: string; readonly name: string; readonly stage: string }[];
  readonly rows: readonly {
    readonly build: string;
    readonly person: string;
    readonly cells: readonly WallCell[];
  }[];
}

/**
 * The wall: about 25 coarse steps across, learners down.
 *
 * @param state  the class
 * @param nowMs  the moment
 * @source       common practice, no published source
 */
export function wallOf(state: ClassState, nowMs: number): Wall {
  const rows = buildsOf(state).map((b) => {
    const plan = planOf(state, b.facts);
    const progress = progressOf(state, b.facts, nowMs);
    const cells = state.route.stageOf.steps.map((step) => {
      const steps = step.operations.flatMap((op) => progress.get(op) ?? []);
      const min = steps.reduce((sum, s) => sum + (plan.byId.get(s.op)?.likelyMin ?? 0), 0);
      const done = steps.reduce((sum, s) => sum + (plan.byId.get(s.op)?.likelyMin ?? 0) * shareDone(s), 0);
      return {
        step: step.id,
        doneFrac: min === 0 ? 1 : done / min,
        state: segmentState(steps),
        before: steps.length > 0 && steps.every((s) => b.facts.operations.get(s.op)?.before === true),
      };
    });
    return { build: b.id, person: b.person, cells };
  });
  return { steps: state.route.stageOf.steps.map(({ id, name, stage }) => ({ id, name, stage })), rows };
}

/** The operations that ticking a coarse step during the course marks done: its own that are left. */
export function operationsOfStep(state: ClassState, facts: BuildFacts, step: string): readonly string[] {
  const plan = planOf(state, facts);
  const own = state.route.stageOf.steps.find((s) => s.id === step)?.operations ?? [];
  return own.filter((op) => plan.byId.has(op) && facts.operations.get(op)?.doneMs === undefined);
}
