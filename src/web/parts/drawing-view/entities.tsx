import { memo } from 'react';
import { dimensionGeometry } from '../../../drawing/dimension.ts';
import { screenDimensionStyle } from '../../../drawing/dimension-style.ts';
import {
  DASHES_PX,
  HATCH_PITCH_PX,
  LAYER_NAMES,
  LAYERS,
  type LayerName,
} from '../../../drawing/line-types.ts';
import type { Entity, HatchEntity, PlainEntity, TextEntity } from '../../../drawing/model.ts';
import { splitFractions } from '../../../drawing/text-runs.ts';
import { fontSizeMm } from '../../../drawing/text-size.ts';
import { baselinePoint } from '../../../output/text-place.ts';
import { entityData, hatchData } from './svg-path.ts';

/** Capital height of words on the screen, px: a word that is smaller at this zoom is shown at the least size. */
const WORD_PX = { least: 8.7, most: 13 };

/** Names of parts behind the plate are left out when a px shows more than this: they would cover the parts. */
const NAMES_UP_TO_MM_PER_PX = 1.15;

/** How entities are shown just now. */
export interface Showing {
  readonly mmPerPx: number;
  /** Layers switched off. */
  readonly hidden: ReadonlySet<LayerName>;
  /** Keys that are looked at. */
  readonly lit: ReadonlySet<string>;
}

type Shown = PlainEntity | HatchEntity;

/** Dimensions broken up at the size of the screen; what is switched off or waits to be looked at left out; bottom layer first. */
function shownEntities(entities: readonly Entity[], { mmPerPx, hidden, lit }: Showing): readonly Shown[] {
  const style = screenDimensionStyle(mmPerPx);
  const plain = entities
    .filter((e) => isShown(e, { mmPerPx, hidden, lit }))
    .flatMap((e): readonly Shown[] =>
      e.kind === 'dimension'
        ? dimensionGeometry(e, style)
        : [e.kind === 'text' ? readableOnScreen(e, mmPerPx) : e],
    );
  return LAYER_NAMES.flatMap((layer) => plain.filter((e) => e.layer === layer));
}

function isShown(entity: Entity, { mmPerPx, hidden, lit }: Showing): boolean {
  if (hidden.has(entity.layer)) return false;
  if (entity.layer === 'accent') return entity.key !== undefined && lit.has(entity.key);
  const isName = entity.kind === 'text' && entity.layer === 'hidden';
  return !isName || mmPerPx <= NAMES_UP_TO_MM_PER_PX;
}

function readableOnScreen(entity: TextEntity, mmPerPx: number): TextEntity {
  const px = Math.min(Math.max(entity.heightMm / mmPerPx, WORD_PX.least), WORD_PX.most);
  return { ...entity, heightMm: px * mmPerPx };
}

function fillClass(entity: Shown): string {
  if (!('fill' in entity) || entity.fill === undefined) return '';
  return entity.layer === 'grid' ? ' f-sheet' : ` f-${entity.fill}`;
}

function Line({
  entity,
  isLit,
}: {
  readonly entity: Exclude<PlainEntity, TextEntity>;
  readonly isLit: boolean;
}) {
  const layer = LAYERS[entity.layer];
  const scale = entity.widthMm !== undefined && layer.printMm ? entity.widthMm / layer.printMm : 1;
  const dashes = DASHES_PX[entity.lineType ?? layer.lineType];
  const isStroked = !('isStroked' in entity) || entity.isStroked !== false;
  return (
    <path
      className={`ly-${entity.layer}${fillClass(entity)}${isLit ? ' lit' : ''}${isStroked ? '' : ' unstroked'}`}
      d={entityData(entity)}
      strokeWidth={layer.screenPx * scale}
      strokeDasharray={dashes.length > 0 ? dashes.join(' ') : undefined}
      fillRule="evenodd"
    />
  );
}

function Words({ entity, mmPerPx }: { readonly entity: TextEntity; readonly mmPerPx: number }) {
  const { x, y } = baselinePoint(entity);
  const sizeMm = fontSizeMm(entity);
  const turn = (entity.rotationRad * 180) / Math.PI;
  return (
    <text
      className={`ly-${entity.layer} words${entity.face === 'name' ? ' nmt' : ''}${entity.hasHalo ? ' knock' : ''}`}
      x={x}
      y={y}
      fontSize={sizeMm}
      fontWeight={entity.weight}
      strokeWidth={entity.hasHalo ? 5 * mmPerPx : undefined}
      textAnchor={entity.anchorX}
      transform={turn === 0 ? undefined : `rotate(${turn} ${x} ${y})`}
    >
      {splitFractions(entity.text).map((run, index) => (
        <tspan
          // runs of one text never change places
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          key={index}
          className={run.isFraction ? 'frt' : undefined}
          dx={run.gapBeforeRatio > 0 ? run.gapBeforeRatio * sizeMm : undefined}
        >
          {run.words}
        </tspan>
      ))}
    </text>
  );
}

/** All entities of a drawing as SVG elements, in mm. */
export const Entities = memo(function Entities({
  entities,
  showing,
}: {
  readonly entities: readonly Entity[];
  readonly showing: Showing;
}) {
  const { mmPerPx, lit } = showing;
  return (
    <>
      {shownEntities(entities, showing).map((entity, index) => {
        const isLit = entity.key !== undefined && lit.has(entity.key);
        const key = `${entity.layer}-${index}`;
        if (entity.kind === 'text') return <Words key={key} entity={entity} mmPerPx={mmPerPx} />;
        if (entity.kind === 'hatch')
          return (
            <path
              key={key}
              className={`ly-${entity.layer} hatch${isLit ? ' lit' : ''}`}
              d={hatchData(entity, HATCH_PITCH_PX * mmPerPx)}
              strokeWidth={0.9}
            />
          );
        return <Line key={key} entity={entity} isLit={isLit} />;
      })}
    </>
  );
});
