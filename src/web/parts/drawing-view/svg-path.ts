import { hatchLines } from '../../../drawing/hatch-lines.ts';
import type { HatchEntity, PlainEntity } from '../../../drawing/model.ts';
import { circleLoop } from '../../../drawing/model.ts';
import { number3 } from '../../../output/number-3.ts';
import { arcData, pathData } from '../../../output/svg-path.ts';

/** Path data of any entity that is a line on the sheet, mm; text has none. */
export function entityData(entity: Exclude<PlainEntity, { kind: 'text' }>): string {
  switch (entity.kind) {
    case 'line':
      return `M${number3(entity.from.x)} ${number3(entity.from.y)}L${number3(entity.to.x)} ${number3(entity.to.y)}`;
    case 'circle':
      return pathData(circleLoop(entity.centre, entity.radiusMm));
    case 'arc':
      return arcData(entity);
    case 'path':
      return pathData(entity);
  }
}

/** All lines of a hatch in one path, at a pitch that suits the screen. */
export function hatchData(hatch: HatchEntity, pitchMm: number): string {
  return hatchLines({ ...hatch, pitchMm })
    .map(entityData)
    .join('');
}
