import type { BoundsMm, Entity } from '../../drawing/model.ts';
import { Entities } from './drawing-view/entities.tsx';
import './drawing-view/drawing-view.css';

/** Pixels a picture, and a sheet of which every word is to be read, are drawn for. */
const PICTURE_PX = 360;
const SHEET_PX = 1400;
const NOTHING: ReadonlySet<never> = new Set<never>();

/** A small picture made of drawing entities: no grid, no zoom. */
export function PlainDrawing({
  entities,
  bounds,
  words,
  isSheet = false,
}: {
  readonly entities: readonly Entity[];
  readonly bounds: BoundsMm;
  readonly words: string;
  /** A whole sheet with its own layout: words keep the size they are printed at. */
  readonly isSheet?: boolean;
}) {
  const width = bounds.maxX - bounds.minX;
  const height = bounds.maxY - bounds.minY;
  return (
    <svg
      className="plain-drawing ents"
      viewBox={`${bounds.minX} ${bounds.minY} ${width} ${height}`}
      role="img"
      aria-label={words}
    >
      <Entities
        entities={entities}
        showing={{ mmPerPx: width / (isSheet ? SHEET_PX : PICTURE_PX), hidden: NOTHING, lit: NOTHING }}
      />
    </svg>
  );
}
