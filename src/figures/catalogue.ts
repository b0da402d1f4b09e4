import type { Figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { airFigures, airRules } from './air.ts';
import { airVolumeFigures } from './air-volume.ts';
import { allowanceFigures, allowanceRules } from './allowances.ts';
import { bandFigures } from './bands.ts';
import { bendingFigures, bendingRules } from './bending.ts';
import { blockFigures, blockRules } from './blocks.ts';
import { boardFigures, boardRules } from './board.ts';
import { braceEndFigures, braceEndRules } from './brace-ends.ts';
import { braceFanFigures, braceFanRules } from './brace-fan.ts';
import { braceStiffnessFigures } from './brace-stiffness.ts';
import { braceXFigures, braceXRules } from './brace-x.ts';
import { braceFigures, braceRules } from './braces.ts';
import { bridgeFigures, bridgeRules } from './bridge.ts';
import { bridgePlateFigures, bridgePlateRules } from './bridge-plate.ts';
import { domeFigures, domeRules } from './dome.ts';
import { finishFigures } from './finish.ts';
import { fretFigures, fretRules } from './frets.ts';
import { headFigures, headRules } from './head.ts';
import { holeFigures, holeRules } from './hole.ts';
import { joinFigures } from './join.ts';
import { liningFigures, liningRules } from './linings.ts';
import { loadFigures, loadRules } from './load.ts';
import { neckFigures, neckRules } from './neck.ts';
import { neckAngleFigures, neckAngleRules } from './neck-angle.ts';
import { outlineFigures, outlineRules } from './outline.ts';
import { proportionFigures, proportionRules } from './outline-proportions.ts';
import { ownOutlineFigures } from './own-outline.ts';
import { rimFigures, rimRules } from './rim.ts';
import { rosetteFigures, rosetteRules } from './rosette.ts';
import { saddleLineFigures, saddleLineRules } from './saddle-line.ts';
import { saddlePlaceFigures } from './saddle-place.ts';
import { seasonFigures } from './season.ts';
import { setupFigures, setupRules } from './setup.ts';
import { sideStripFigures } from './side-strip.ts';
import { spacingFigures, spacingRules } from './spacing.ts';
import { stockFitFigures } from './stock-fit.ts';
import { stockFitRules } from './stock-fit-rules.ts';
import { stringSetFigures } from './string-set.ts';
import { structureFigures } from './structure.ts';
import { thicknessFigures, thicknessRules } from './thickness.ts';
import { toleranceFigures } from './tolerance.ts';

/** Every computed figure, by topic. */
export const allFigures: readonly Figure[] = [
  ...airVolumeFigures,
  ...airFigures,
  ...allowanceFigures,
  ...bandFigures,
  ...bendingFigures,
  ...blockFigures,
  ...boardFigures,
  ...braceEndFigures,
  ...braceFanFigures,
  ...braceStiffnessFigures,
  ...braceXFigures,
  ...braceFigures,
  ...bridgePlateFigures,
  ...bridgeFigures,
  ...domeFigures,
  ...finishFigures,
  ...fretFigures,
  ...headFigures,
  ...holeFigures,
  ...joinFigures,
  ...liningFigures,
  ...loadFigures,
  ...neckAngleFigures,
  ...neckFigures,
  ...outlineFigures,
  ...ownOutlineFigures,
  ...proportionFigures,
  ...rimFigures,
  ...rosetteFigures,
  ...saddleLineFigures,
  ...saddlePlaceFigures,
  ...setupFigures,
  ...sideStripFigures,
  ...spacingFigures,
  ...stockFitFigures,
  ...stringSetFigures,
  ...structureFigures,
  ...seasonFigures,
  ...thicknessFigures,
  ...toleranceFigures,
];

/** Every rule, by topic. */
export const allRules: readonly Rule[] = [
  ...airRules,
  ...allowanceRules,
  ...bendingRules,
  ...blockRules,
  ...boardRules,
  ...braceEndRules,
  ...braceFanRules,
  ...braceXRules,
  ...braceRules,
  ...bridgePlateRules,
  ...bridgeRules,
  ...domeRules,
  ...fretRules,
  ...headRules,
  ...holeRules,
  ...liningRules,
  ...loadRules,
  ...neckAngleRules,
  ...neckRules,
  ...outlineRules,
  ...proportionRules,
  ...rimRules,
  ...rosetteRules,
  ...setupRules,
  ...spacingRules,
  ...stockFitRules,
  ...saddleLineRules,
  ...thicknessRules,
];
