import type { BoundsMm, Entity } from '../../drawing/model.ts';
import { Entities } from './drawing-view/entities.tsx';
import './drawing-view/drawing-view.css';

const NOTHING: ReadonlySet<never> = new Set<never>();

/** A small picture made of drawing entities: no grid, no zoom. */
export function PlainDrawing({
  entities,
  bounds,
  words,
}: {
  readonly entities: readonly Entity[];
  readonly bounds: BoundsMm;
  readonly words: string;
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
      <Entities entities={entities} showing={{ mmPerPx: width / 360, hidden: NOTHING, lit: NOTHING }} />
    </svg>
  );
}
