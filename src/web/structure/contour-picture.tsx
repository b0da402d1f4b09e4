import { useEffect, useRef, useState } from 'react';
import type { PlateShapes } from '../../mechanics/plate/plate-problem.ts';
import { usePrefersStill } from './use-still.ts';

/** Steps of deflection between two contour lines, as parts of the largest. */
const contourStep = 0.2;
const swingsPerSecond = 0.4;

/**
 * Deflection of the plate as a picture seen from the front, neck end up: dark for outward, accent for inward, a thin
 * line at each fifth and a thick one where it stands still. A mode swings slowly unless the person prefers stillness.
 */
export function ContourPicture(props: {
  readonly shapes: PlateShapes;
  readonly values: Float64Array;
  readonly words: string;
  readonly isSwinging?: boolean;
  readonly widthPx?: number;
}) {
  const { shapes, values, words, isSwinging = false, widthPx = 170 } = props;
  const canvas = useRef<HTMLCanvasElement>(null);
  const prefersStill = usePrefersStill();
  const [isPaused, setPaused] = useState(false);
  const moves = isSwinging && !prefersStill && !isPaused;
  const box = boxOf(shapes);
  const heightPx = Math.round((widthPx * (box.x1 - box.x0)) / (box.y1 - box.y0));
  useEffect(() => {
    const context = canvas.current?.getContext('2d');
    if (!context) return;
    const ratio = window.devicePixelRatio || 1;
    context.canvas.width = widthPx * ratio;
    context.canvas.height = heightPx * ratio;
    const layers = layersOf(context.canvas, shapes, values);
    const draw = (swing: number) => show(context, layers, swing);
    draw(1);
    if (!moves) return;
    let frame = 0;
    const step = (ms: number) => {
      draw(Math.cos((ms / 1000) * 2 * Math.PI * swingsPerSecond));
      frame = requestAnimationFrame(step);
    };
    frame = requestAnimationFrame(step);
    return () => cancelAnimationFrame(frame);
  }, [shapes, values, moves, widthPx, heightPx]);
  return (
    <div className="contour">
      <canvas ref={canvas} role="img" aria-label={words} className="contour-canvas" />
      {isSwinging && !prefersStill ? (
        <button type="button" className="btn sm" aria-pressed={isPaused} onClick={() => setPaused(!isPaused)}>
          {isPaused ? 'Let it swing' : 'Hold still'}
        </button>
      ) : null}
    </div>
  );
}

interface Box {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

function boxOf(shapes: PlateShapes): Box {
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity];
  shapes.xMm.forEach((x, i) => {
    const y = shapes.yMm[i] as number;
    x0 = Math.min(x0, x);
    x1 = Math.max(x1, x);
    y0 = Math.min(y0, y);
    y1 = Math.max(y1, y);
  });
  return { x0, x1, y0, y1 };
}

interface Ink {
  readonly out: string;
  readonly in: string;
  readonly ground: string;
  readonly line: string;
}

function inkOf(element: HTMLElement): Ink {
  const style = getComputedStyle(element);
  const token = (name: string) => style.getPropertyValue(name).trim();
  return { out: token('--ghost'), in: token('--accent'), ground: token('--sheet'), line: token('--ink') };
}

/** Pictures painted once: the wood, the movement one way and the other, the contour lines. */
interface Layers {
  readonly ground: HTMLCanvasElement;
  readonly there: HTMLCanvasElement;
  readonly back: HTMLCanvasElement;
  readonly lines: HTMLCanvasElement;
}

/** One moment of the swing, -1..1. */
function show(context: CanvasRenderingContext2D, layers: Layers, swing: number): void {
  context.clearRect(0, 0, context.canvas.width, context.canvas.height);
  context.drawImage(layers.ground, 0, 0);
  context.globalAlpha = Math.abs(swing);
  context.drawImage(swing >= 0 ? layers.there : layers.back, 0, 0);
  context.globalAlpha = 1;
  context.drawImage(layers.lines, 0, 0);
}

function layersOf(target: HTMLCanvasElement, shapes: PlateShapes, values: Float64Array): Layers {
  const box = boxOf(shapes);
  const { width, height } = target;
  const ink = inkOf(target);
  const most = values.reduce((m, v) => Math.max(m, Math.abs(v)), 1e-12);
  // plate x runs from the neck end to the tail: down the picture; plate y runs across
  const px = (i: number) => (((shapes.yMm[i] as number) - box.y0) / (box.y1 - box.y0)) * (width - 2) + 1;
  const py = (i: number) => (((shapes.xMm[i] as number) - box.x0) / (box.x1 - box.x0)) * (height - 2) + 1;
  const { triangle } = shapes;
  const painted = (fill: (mean: number) => readonly [colour: string, alpha: number]): HTMLCanvasElement =>
    layer(width, height, (context) => {
      for (let t = 0; t < triangle.length; t += 3) {
        const [a, b, c] = [triangle[t] as number, triangle[t + 1] as number, triangle[t + 2] as number];
        const mean = ((values[a] as number) + (values[b] as number) + (values[c] as number)) / 3 / most;
        const [colour, alpha] = fill(mean);
        context.globalAlpha = alpha;
        context.fillStyle = colour;
        context.beginPath();
        context.moveTo(px(a), py(a));
        context.lineTo(px(b), py(b));
        context.lineTo(px(c), py(c));
        context.closePath();
        context.fill();
      }
    });
  return {
    ground: painted(() => [ink.ground, 1]),
    there: painted((mean) => [mean >= 0 ? ink.out : ink.in, Math.min(1, Math.abs(mean)) * 0.85]),
    back: painted((mean) => [mean < 0 ? ink.out : ink.in, Math.min(1, Math.abs(mean)) * 0.85]),
    lines: layer(width, height, (context) => {
      context.strokeStyle = ink.line;
      for (let step = -4; step <= 4; step++)
        contour(context, triangle, (i) => (values[i] as number) / most, step * contourStep, px, py);
    }),
  };
}

function layer(
  width: number,
  height: number,
  paint: (context: CanvasRenderingContext2D) => void,
): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  const context = canvas.getContext('2d');
  if (context) paint(context);
  return canvas;
}

/** The line where the value is `level`, triangle by triangle. */
function contour(
  context: CanvasRenderingContext2D,
  triangle: Int32Array,
  value: (i: number) => number,
  level: number,
  px: (i: number) => number,
  py: (i: number) => number,
): void {
  const isStill = Math.abs(level) < 1e-6;
  context.lineWidth = isStill ? 2.2 : 0.6;
  context.beginPath();
  for (let t = 0; t < triangle.length; t += 3) {
    const cuts: [number, number][] = [];
    for (let k = 0; k < 3; k++) {
      const [i, j] = [triangle[t + k] as number, triangle[t + ((k + 1) % 3)] as number];
      const [a, b] = [value(i) - level, value(j) - level];
      if (a < 0 === b < 0) continue;
      const part = a / (a - b);
      cuts.push([px(i) + part * (px(j) - px(i)), py(i) + part * (py(j) - py(i))]);
    }
    const [from, to] = cuts;
    if (!from || !to) continue;
    context.moveTo(...from);
    context.lineTo(...to);
  }
  context.stroke();
}
