import { type PointerEvent, type RefObject, useEffect, useRef } from 'react';
import { pointAt, type SizePx, type View, zoomView } from './view-box.ts';

interface Moves {
  readonly view: View;
  readonly fit: View;
  readonly size: SizePx;
  readonly place: RefObject<HTMLElement | null>;
  /** The view is no longer the fitted one: a finger then moves the drawing instead of the page. */
  readonly isMoved: boolean;
  readonly setView: (view: View) => void;
}

interface Pointers {
  readonly points: Map<number, { x: number; y: number }>;
}

/** Wheel with Ctrl (or a pinch on a pad) zooms about the pointer; two fingers zoom; dragging the sheet moves it once it is zoomed. */
export function useMoves(moves: Moves) {
  const latest = useRef(moves);
  latest.current = moves;
  const held = useRef<Pointers>({ points: new Map() });

  useEffect(() => {
    const element = moves.place.current;
    if (!element) return;
    const onWheel = (event: WheelEvent) => {
      if (!event.ctrlKey && !event.metaKey) return;
      event.preventDefault();
      const { view, fit, size, setView } = latest.current;
      const box = element.getBoundingClientRect();
      const about = pointAt(view, size, event.clientX - box.left, event.clientY - box.top);
      setView(zoomView(view, Math.exp(-event.deltaY * 0.004), about, fit));
    };
    element.addEventListener('wheel', onWheel, { passive: false });
    return () => element.removeEventListener('wheel', onWheel);
  }, [moves.place]);

  const local = (event: PointerEvent<SVGSVGElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };

  return {
    onPointerDown(event: PointerEvent<SVGSVGElement>) {
      const { points } = held.current;
      points.set(event.pointerId, local(event));
      if (latest.current.isMoved || points.size === 2) event.currentTarget.setPointerCapture(event.pointerId);
    },
    onPointerMove(event: PointerEvent<SVGSVGElement>) {
      const { points } = held.current;
      const before = points.get(event.pointerId);
      if (!before) return;
      const now = local(event);
      const { view, fit, size, isMoved, setView } = latest.current;
      const other = [...points].find(([id]) => id !== event.pointerId)?.[1];
      points.set(event.pointerId, now);
      if (other) {
        const factor =
          Math.hypot(now.x - other.x, now.y - other.y) /
          Math.max(1, Math.hypot(before.x - other.x, before.y - other.y));
        setView(zoomView(view, factor, pointAt(view, size, other.x, other.y), fit));
      } else if (isMoved) {
        const { mmPerPx, centre } = view;
        const x = centre.x - (now.x - before.x) * mmPerPx;
        const y = centre.y - (now.y - before.y) * mmPerPx;
        setView({ mmPerPx, centre: { x, y } });
      }
    },
    onPointerUp(event: PointerEvent<SVGSVGElement>) {
      held.current.points.delete(event.pointerId);
    },
    onPointerCancel(event: PointerEvent<SVGSVGElement>) {
      held.current.points.delete(event.pointerId);
    },
  };
}
