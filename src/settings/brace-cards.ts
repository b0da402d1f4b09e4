import { plainAngle, plainLength } from './make-setting.ts';
import { type CardSpec, cardSpec, MAY_CHANGE } from './setting.ts';

const lap = cardSpec({
  id: 'brace-lap',
  title: 'Cut the crossing lap',
  station: 'bench',
  operations: ['R5'],
  lie: 'Both legs in the lap guide, soles down.',
  mayChange: MAY_CHANGE.own,
  from: ['brace.x.height', 'brace.x.width', 'brace.x.opening_angle'],
  build({ of }) {
    const angleDeg = of('brace.x.opening_angle');
    const widthMm = of('brace.x.width') / Math.sin((angleDeg * Math.PI) / 180);
    const halfMm = of('brace.x.height') / 2;
    return {
      settings: [
        plainAngle(
          {
            id: 'lap.angle',
            label: 'Opening of the legs, toward the tail',
            figures: ['brace.x.opening_angle'],
          },
          angleDeg,
          1,
        ),
        plainLength(
          {
            id: 'lap.width',
            label: 'Lap width along the leg',
            figures: ['brace.x.width', 'brace.x.opening_angle'],
          },
          widthMm,
          2,
        ),
        plainLength(
          {
            id: 'lap.depth',
            label: 'Half of the height from each leg',
            figures: ['brace.x.height'],
            low: halfMm - 0.1,
            high: halfMm + 0.1,
          },
          halfMm,
        ),
      ],
      picture: { kind: 'groove', widthMm, depthMm: halfMm, bodyMm: 2 * halfMm, words: 'other leg' },
      onScrap: ['Two scraps of the same blank: tops level, no light'],
      onPiece: [
        'Upper half out of the leg that runs bass-upper to treble-lower',
        'Saw inside the lines, pare to fit',
      ],
    };
  },
});

/** Cards of the braces. */
export const braceCards: readonly CardSpec[] = [lap];
