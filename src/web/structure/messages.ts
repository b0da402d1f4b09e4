import type { RaisedBars } from '../../course/plate-bars.ts';
import type { ThinTop } from '../../course/rescue.ts';
import type { PlateMaterial, PlateShapes } from '../../mechanics/plate/plate-problem.ts';
import type { BraceShare, TopAnswer } from '../../mechanics/top-answer.ts';
import type { TopInput } from '../../mechanics/top-problem.ts';
import type { ThickMaterial } from '../../wood/board-thickness.ts';
import type { RimResponses } from '../../wood/top-seasons.ts';

/** What the page asks of its worker. */
export type Ask =
  | {
      readonly kind: 'top';
      readonly id: number;
      readonly top: TopInput;
      readonly fineness: 'coarse' | 'fine';
    }
  | {
      readonly kind: 'board';
      readonly id: number;
      readonly top: TopInput;
      readonly reference: ThickMaterial;
      readonly material: PlateMaterial;
    }
  | { readonly kind: 'bars'; readonly id: number; readonly thin: ThinTop }
  | {
      readonly kind: 'swelling';
      readonly id: number;
      readonly top: TopInput;
      readonly domeRadiusMm: number | undefined;
    };

/** A top as computed, with its shapes for pictures. */
export interface SolvedTop {
  readonly fineness: 'coarse' | 'fine';
  readonly answer: TopAnswer;
  readonly braces: readonly BraceShare[];
  readonly shapes: PlateShapes;
  readonly middleYMm: number;
  readonly unknownCount: number;
}

/** What the worker says. */
export type Told =
  | { readonly kind: 'stage'; readonly id: number; readonly stage: string; readonly partFrac: number }
  | { readonly kind: 'top'; readonly id: number; readonly solved: SolvedTop }
  | { readonly kind: 'board'; readonly id: number; readonly thicknessMm: number }
  | { readonly kind: 'bars'; readonly id: number; readonly bars: RaisedBars }
  | { readonly kind: 'swelling'; readonly id: number; readonly responses: RimResponses }
  | { readonly kind: 'refused'; readonly id: number; readonly sentence: string };
