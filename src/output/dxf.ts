import { explode, isPrinted } from '../drawing/assemble.ts';
import { PRINT_DIMENSION_STYLE } from '../drawing/dimension-style.ts';
import type { BoundsMm, Drawing } from '../drawing/model.ts';
import { entityTags } from './dxf-entities.ts';
import {
  blocksTags,
  FIRST_ENTITY_HANDLE,
  headerTags,
  objectsTags,
  section,
  tablesTags,
} from './dxf-tables.ts';
import { dxfText } from './dxf-tags.ts';

/**
 * A drawing as a DXF file of release 2007 (AC1021): mm, one layer per kind of line, true arcs and circles, cubics as
 * exact splines, words as words, dimensions broken into lines, arrows and words. y points up; the drawing's origin
 * stays the origin. Layers that are not printed are left out. Same drawing, same bytes.
 *
 * @throws RangeError when a coordinate is not finite
 */
export function drawingToDxf(drawing: Drawing): string {
  const printed = drawing.entities.filter(isPrinted);
  let handle = FIRST_ENTITY_HANDLE;
  const takeHandle = () => (handle++).toString(16).toUpperCase();
  const entities = explode(printed, PRINT_DIMENSION_STYLE).flatMap((entity) =>
    entityTags(entity, takeHandle),
  );
  const at = turnedUp(drawing.frame);
  return dxfText([
    ...headerTags(at, takeHandle()),
    ...section('CLASSES'),
    [0, 'ENDSEC'],
    ...tablesTags(at),
    ...blocksTags(),
    ...section('ENTITIES'),
    ...entities,
    [0, 'ENDSEC'],
    ...objectsTags(),
    [0, 'EOF'],
  ]);
}

function turnedUp({ minX, minY, maxX, maxY }: BoundsMm): BoundsMm {
  return { minX, maxX, minY: -maxY, maxY: -minY };
}
