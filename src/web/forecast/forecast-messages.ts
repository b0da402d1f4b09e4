import type { ClassState } from '../../course/class-state.ts';
import type { Board, BoardChange } from '../../course/plan-board.ts';
import type { MinutesRow } from '../../schedule/class/minutes-asked.ts';

/** What every job of the worker begins from. */
interface JobBase {
  readonly state: ClassState;
  readonly nowMs: number;
  /** Day by which everybody should be done; the last session when left out. */
  readonly dueMs?: number;
  /** Sessions in which what is out of order now stays so. */
  readonly outForSessions: number;
}

/** What the page asks of its worker. */
export type ForecastRequest = JobBase &
  (
    | { readonly job: 'look' }
    | { readonly job: 'plan'; readonly seconds: number }
    | { readonly job: 'forecast'; readonly courses: number }
    | { readonly job: 'move'; readonly step: string; readonly windowId: string }
  );

/** One learner's prospects, with twenty finish days for the dots. */
export interface LearnerProspect {
  /** Id of the build. */
  readonly id: string;
  /** Days, as 2026-11-24. */
  readonly p10: string;
  readonly p25: string;
  readonly p50: string;
  readonly p75: string;
  readonly p90: string;
  /** Twenty days, the earliest first: one in twenty tries ends by each. */
  readonly twenty: readonly string[];
  /** So many of twenty tries are in time. */
  readonly ofTwenty: number;
  /** The single step that helps this learner most, with the days it brings on average. */
  readonly pullForward?: { readonly text: string; readonly earlierDays: number };
}

/** A plan to be seen: its board, sums and how near the best it is. */
export interface SeenPlan {
  /** The moment it was made for. */
  readonly nowMs: number;
  readonly board: Board;
  readonly asked: readonly MinutesRow[];
  /** Session in which the last build is finished, of so many there are. */
  readonly sessions: number;
  readonly given: number;
  readonly boundSession: number;
  readonly boundWords: string;
  readonly learned: {
    readonly usedFrac: number;
    readonly recordCount: number;
    readonly operations: readonly { readonly id: string; readonly factor: number; readonly count: number }[];
    readonly learners: readonly { readonly id: string; readonly factor: number; readonly count: number }[];
  };
  /** What is out of order and taken to stay so for some sessions. */
  readonly closed: readonly string[];
}

/** What the worker tells. */
export type ForecastNews =
  | { readonly kind: 'progress'; readonly words: string; readonly shareFrac: number }
  | { readonly kind: 'seen'; readonly plan: SeenPlan }
  | {
      readonly kind: 'planned';
      readonly plan: SeenPlan;
      /** To be published. */
      readonly text: string;
      /** Against the published plan; undefined when there is none. */
      readonly changes: readonly BoardChange[] | undefined;
      /** The published plan still holds and nothing much better was found. */
      readonly isKept: boolean;
      readonly wouldHelp: readonly string[];
      /** What the teacher's pins break in it. */
      readonly pinBreaks: readonly string[];
    }
  | {
      readonly kind: 'moved';
      readonly step: string;
      readonly windowId: string;
      readonly beginMin: number;
      readonly endMin: number;
      readonly startMs: number;
      readonly endMs: number;
      readonly station: string | undefined;
      readonly breaks: readonly string[];
    }
  | {
      readonly kind: 'forecast';
      readonly due: string;
      readonly learners: readonly LearnerProspect[];
      readonly course: LearnerProspect | undefined;
      readonly bottlenecks: readonly { readonly name: string; readonly shareFrac: number }[];
      readonly changes: readonly {
        readonly text: string;
        readonly kind: string;
        readonly earlierDays: number;
        /** Tries of twenty that more of the whole course are in time. */
        readonly moreOfTwenty: number;
      }[];
      readonly played: number;
    }
  | { readonly kind: 'refused'; readonly text: string };

/** A new plan, with what it changes. */
export type Planned = Extract<ForecastNews, { readonly kind: 'planned' }>;
