import type { PlanRow } from '../../course/plan-rows.ts';
import type { MinutesRow } from '../../schedule/class/minutes-asked.ts';

/** What the page asks of its worker. */
export interface ForecastRequest {
  /** Course file made from the record. */
  readonly text: string;
  readonly seconds: number;
  readonly courses: number;
  readonly seed: number;
}

/** One learner's prospects, with twenty finish days for the dots. */
export interface LearnerProspect {
  readonly id: string;
  readonly p10: string;
  readonly p50: string;
  readonly p90: string;
  /** So many of twenty tries are in time. */
  readonly ofTwenty: number;
}

/** What the worker tells. */
export type ForecastNews =
  | { readonly kind: 'progress'; readonly words: string; readonly shareFrac: number }
  | {
      readonly kind: 'plan';
      readonly asked: readonly MinutesRow[];
      readonly sessions: number;
      readonly given: number;
      readonly boundWords: string;
      readonly rows: readonly PlanRow[];
    }
  | {
      readonly kind: 'forecast';
      readonly due: string;
      readonly learners: readonly LearnerProspect[];
      readonly course: LearnerProspect | undefined;
      readonly bottlenecks: readonly { readonly name: string; readonly shareFrac: number }[];
      readonly changes: readonly {
        readonly text: string;
        readonly earlierDays: number;
      }[];
      readonly played: number;
    }
  | { readonly kind: 'refused'; readonly text: string };
