import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import type { Drawing, Handle, PointMm } from '../../../drawing/model.ts';
import { gripsOf, inputChange, keyDirection, snapped } from './handles.ts';

/** An input that can be dragged: what it is called, its value and limits. */
export interface Draggable {
  readonly label: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Value in words, with its unit. */
  readonly words: string;
}

/** How the page takes part in dragging. */
export interface Grips {
  /** The input behind a handle; undefined when it cannot be dragged now. */
  readonly draggable: (inputId: string) => Draggable | undefined;
  readonly onStart: (inputId: string) => void;
  readonly onDrag: (inputId: string, value: number) => void;
  readonly onEnd: (inputId: string) => void;
  /** A key moved it by one step. */
  readonly onStep: (inputId: string, value: number) => void;
}

interface Held {
  readonly inputId: string;
  readonly from: PointMm;
  readonly value: number;
  next: number | undefined;
  frame: number | undefined;
}

const COARSE_PX_PER_MM = 2;
const GRIP_PX = 7;
/** Single bars have smaller grips, there are many of them. */
const SMALL_GRIP_PX = 4.5;
const HIT_PX = 22;
const SMALL_HIT_PX = 14;

function pointOf(event: PointerEvent<SVGGElement>): PointMm | undefined {
  const svg = event.currentTarget.ownerSVGElement;
  const toDrawing = svg?.getScreenCTM()?.inverse();
  if (!toDrawing) return undefined;
  const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(toDrawing);
  return { x: point.x, y: point.y };
}

/** A small diamond for each input that can be dragged, also for the keyboard. */
export function GripMarks(props: {
  readonly drawing: Drawing;
  readonly grips: Grips;
  readonly mmPerPx: number;
  readonly isMirrored: boolean;
}) {
  return (
    <g className="grips">
      {gripsOf(props.drawing).map(({ handle, at }) => {
        const input = props.grips.draggable(handle.inputId);
        return input && <GripMark key={handle.inputId} {...props} handle={handle} at={at} input={input} />;
      })}
    </g>
  );
}

function GripMark(props: {
  readonly handle: Handle;
  readonly at: PointMm;
  readonly input: Draggable;
  readonly grips: Grips;
  readonly mmPerPx: number;
  readonly isMirrored: boolean;
}) {
  const { handle, at, input, grips, mmPerPx, isMirrored } = props;
  const { inputId } = handle;
  const held = useRef<Held>(undefined);
  const stepNow = 1 / mmPerPx > COARSE_PX_PER_MM ? 0.1 : 0.5;

  const onPointerDown = (event: PointerEvent<SVGGElement>) => {
    const from = pointOf(event);
    if (!from || event.button !== 0) return;
    event.stopPropagation();
    event.currentTarget.setPointerCapture(event.pointerId);
    held.current = { inputId, from, value: input.value, next: undefined, frame: undefined };
    grips.onStart(inputId);
  };
  const send = () => {
    const now = held.current;
    if (!now) return;
    now.frame = undefined;
    if (now.next !== undefined) grips.onDrag(now.inputId, now.next);
    now.next = undefined;
  };
  const onPointerMove = (event: PointerEvent<SVGGElement>) => {
    const now = held.current;
    const to = pointOf(event);
    if (!now || !to) return;
    event.stopPropagation();
    const value = now.value + inputChange(handle, now.from, to, isMirrored);
    now.next = snapped(value, stepNow, input.low, input.high);
    now.frame ??= requestAnimationFrame(send);
  };
  const onPointerUp = (event: PointerEvent<SVGGElement>) => {
    const now = held.current;
    if (!now) return;
    event.stopPropagation();
    if (now.frame !== undefined) cancelAnimationFrame(now.frame);
    send();
    held.current = undefined;
    grips.onEnd(inputId);
  };
  const onKeyDown = (event: KeyboardEvent<SVGGElement>) => {
    const direction = keyDirection(handle, event.key, isMirrored);
    if (!direction) return;
    event.preventDefault();
    const step = event.shiftKey ? 5 : event.altKey ? 0.1 : 0.5;
    grips.onStep(
      inputId,
      snapped(input.value + direction * step, event.altKey ? 0.1 : 0.5, input.low, input.high),
    );
  };
  const isSmall = inputId.startsWith('brace.bars.');
  const size = (isSmall ? SMALL_GRIP_PX : GRIP_PX) * mmPerPx;
  return (
    <g
      className={`grip ax-${handle.axis}`}
      role="slider"
      tabIndex={0}
      aria-label={`${input.label}, drag or arrow keys`}
      aria-valuenow={input.value}
      aria-valuemin={input.low}
      aria-valuemax={input.high}
      aria-valuetext={input.words}
      data-input={inputId}
      onPointerDown={onPointerDown}
      onPointerMove={onPointerMove}
      onPointerUp={onPointerUp}
      onPointerCancel={onPointerUp}
      onKeyDown={onKeyDown}
    >
      <title>{`${input.label}: ${input.words}`}</title>
      <circle className="hit" cx={at.x} cy={at.y} r={(isSmall ? SMALL_HIT_PX : HIT_PX) * mmPerPx} />
      <path
        className="diamond"
        d={`M${at.x - size} ${at.y}L${at.x} ${at.y - size}L${at.x + size} ${at.y}L${at.x} ${at.y + size}Z`}
        strokeWidth="1.5"
      />
    </g>
  );
}
