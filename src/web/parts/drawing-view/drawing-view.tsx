import { type ReactNode, useRef, useState } from 'react';
import type { LayerName } from '../../../drawing/line-types.ts';
import type { Drawing, Entity, PointMm } from '../../../drawing/model.ts';
import './drawing-view.css';
import { Entities } from './entities.tsx';
import { Grid } from './grid.tsx';
import { GripMarks, type Grips } from './grip-marks.tsx';
import { useMoves } from './use-moves.ts';
import { useSize } from './use-size.ts';
import { fitView, type Margins, seenBounds, type View, zoomView } from './view-box.ts';

const NO_LAYERS: ReadonlySet<LayerName> = new Set();
const NO_KEYS: ReadonlySet<string> = new Set();
const NO_ENTITIES: readonly Entity[] = [];

/** What a drawing shows beside its entities. */
export interface DrawingViewProps {
  readonly drawing: Drawing;
  /** Lines of the last revision, under everything else. */
  readonly ghosts?: readonly Entity[];
  readonly hidden?: ReadonlySet<LayerName>;
  /** Keys that are looked at. */
  readonly lit?: ReadonlySet<string>;
  /** A filled label at the place that is looked at. */
  readonly label?: { readonly at: PointMm; readonly first: string; readonly second: string } | undefined;
  readonly grips?: Grips | undefined;
  readonly isMirrored?: boolean;
  readonly margins: Margins;
  /** A small picture: no zoom, no grid. */
  readonly isStill?: boolean;
  /** One sentence for those who do not see it. */
  readonly words: string;
  /** What lies on the sheet over the drawing: switches, key, title block. */
  readonly children?: ReactNode;
}

/** One drawing on the 10 mm grid: fits itself, zooms, moves, lights what is looked at, lets parts be dragged. */
export function DrawingView(props: DrawingViewProps) {
  const { drawing, margins } = props;
  const place = useRef<HTMLDivElement>(null);
  const size = useSize(place);
  const fit = fitView(drawing.frame, size, margins);
  const [moved, setMoved] = useState<View>();
  // while something is dragged the sheet lies still, although the drawing may outgrow its frame
  const [held, setHeld] = useState<View>();
  const view = moved ?? held ?? fit;
  const seen = seenBounds(view, size);
  const isDrawn = size.width > 0;
  const moves = useMoves({ view, fit, size, place, isMoved: moved !== undefined, setView: setMoved });
  const showing = {
    mmPerPx: view.mmPerPx,
    hidden: props.hidden ?? NO_LAYERS,
    lit: props.lit ?? NO_KEYS,
  };
  const zoom = (factor: number) => setMoved(zoomView(view, factor, view.centre, fit));
  return (
    <div className="dview" ref={place} data-state={isDrawn ? 'drawn' : 'waiting'}>
      <p className="vh">{props.words}</p>
      {isDrawn && (
        // biome-ignore lint/a11y/noSvgWithoutTitle: the sentence stands above; a title would follow the pointer everywhere
        <svg
          className={moved ? 'sheet-svg moved' : 'sheet-svg'}
          viewBox={`${seen.minX} ${seen.minY} ${seen.maxX - seen.minX} ${seen.maxY - seen.minY}`}
          width={size.width}
          height={size.height}
          {...moves}
        >
          {!props.isStill && !showing.hidden.has('grid') && <Grid seen={seen} mmPerPx={view.mmPerPx} />}
          {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: a group of lines takes no focus; the sentence above says what is drawn */}
          <g className="ents" aria-hidden="true">
            <Entities entities={drawing.entities} showing={showing} />
            {props.ghosts && !showing.hidden.has('ghost') && (
              <Entities entities={props.ghosts ?? NO_ENTITIES} showing={showing} />
            )}
            {props.label && <LitLabel label={props.label} mmPerPx={view.mmPerPx} seenMaxX={seen.maxX} />}
          </g>
          {props.grips && (
            <GripMarks
              drawing={drawing}
              grips={heldGrips(
                props.grips,
                () => setHeld(view),
                () => setHeld(undefined),
              )}
              mmPerPx={view.mmPerPx}
              isMirrored={props.isMirrored === true}
            />
          )}
        </svg>
      )}
      {props.children}
      {!props.isStill && (
        <div className="zoom noprint">
          <button type="button" className="btn sm" aria-label="Nearer" onClick={() => zoom(1.4)}>
            +
          </button>
          <button type="button" className="btn sm" aria-label="Further" onClick={() => zoom(1 / 1.4)}>
            −
          </button>
          {moved && (
            <button type="button" className="btn sm" onClick={() => setMoved(undefined)}>
              Show all
            </button>
          )}
        </div>
      )}
    </div>
  );
}

function heldGrips(grips: Grips, hold: () => void, letGo: () => void): Grips {
  return {
    ...grips,
    onStart: (id) => {
      hold();
      grips.onStart(id);
    },
    onEnd: (id) => {
      letGo();
      grips.onEnd(id);
    },
  };
}

/** A dot at the place, a leader and a filled label with the number and its limit. */
function LitLabel({
  label,
  mmPerPx,
  seenMaxX,
}: {
  readonly label: { readonly at: PointMm; readonly first: string; readonly second: string };
  readonly mmPerPx: number;
  readonly seenMaxX: number;
}) {
  const widthPx = Math.max(88, label.second.length * 6.3 + 16, label.first.length * 9 + 16);
  const isLeft = label.at.x + (74 + widthPx + 8) * mmPerPx > seenMaxX;
  const px = (value: number) => value * mmPerPx;
  const corner = { x: label.at.x + px(isLeft ? -74 - widthPx : 74), y: label.at.y + px(26) };
  const joint = { x: isLeft ? corner.x + px(widthPx) : corner.x, y: corner.y + px(19) };
  return (
    <g className="litlabel">
      <path d={`M${label.at.x} ${label.at.y}L${joint.x} ${joint.y}`} strokeWidth="1.5" />
      <circle cx={label.at.x} cy={label.at.y} r={px(4.5)} />
      <rect x={corner.x} y={corner.y} width={px(widthPx)} height={px(38)} />
      <text x={corner.x + px(widthPx / 2)} y={corner.y + px(17)} fontSize={px(16)} fontWeight="700">
        {label.first}
      </text>
      <text x={corner.x + px(widthPx / 2)} y={corner.y + px(31)} fontSize={px(11.5)} fontWeight="550">
        {label.second}
      </text>
    </g>
  );
}
