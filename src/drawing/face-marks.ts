import { braceScheme, input } from '../figures/inputs.ts';
import { saddleY } from '../figures/saddle-place.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { type Entity, line } from './model.ts';
import { pointOnCircle } from './path-walk.ts';

/*
 * Short marks at the very place a rule measures. They lie on the layer of what is looked at, with the rule's id as key:
 * the page shows one when its rule is looked at.
 */

/** All marks that this instrument has. @source plane-geometry */
export function ruleMarks(sheet: Sheet): readonly Entity[] {
  if (figureValue(sheet, braceScheme) !== 'x') return [];
  return [...holeToLeg(sheet), ...wingBeyondLeg(sheet)];
}

/** From the hole edge square to the side of the treble leg. */
function holeToLeg(sheet: Sheet): readonly Entity[] {
  const holeY = figureValue(sheet, input('hole.centre_y'));
  const radius = figureValue(sheet, input('hole.radius'));
  const crossing = figureValue(sheet, input('brace.x.crossing_y'));
  const opening = figureValue(sheet, input('brace.x.opening_angle'));
  const width = figureValue(sheet, input('brace.x.width'));
  if (
    holeY === undefined ||
    radius === undefined ||
    crossing === undefined ||
    opening === undefined ||
    width === undefined
  )
    return [];
  const half = (opening * Math.PI) / 360;
  const reach = Math.abs(crossing - holeY) * Math.sin(half) - width / 2;
  const centre = { x: 0, y: holeY };
  // the square from the hole centre to a leg that makes an angle with the centre line makes the same angle with x
  const turn = crossing > holeY ? half : -half;
  return [
    line('accent', pointOnCircle(centre, radius, turn), pointOnCircle(centre, reach, turn), {
      key: 'brace-x-clear-of-hole',
    }),
  ];
}

/** From the leg to the wing tip on the saddle line. */
function wingBeyondLeg(sheet: Sheet): readonly Entity[] {
  const y = figureValue(sheet, saddleY);
  const crossing = figureValue(sheet, input('brace.x.crossing_y'));
  const opening = figureValue(sheet, input('brace.x.opening_angle'));
  const length = figureValue(sheet, input('bridge.length'));
  if (y === undefined || crossing === undefined || opening === undefined || length === undefined) return [];
  const legX = (y - crossing) * Math.tan((opening * Math.PI) / 360);
  return [line('accent', { x: legX, y }, { x: length / 2, y }, { key: 'brace-x-wing-beyond-leg' })];
}
