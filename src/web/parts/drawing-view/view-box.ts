import type { BoundsMm, PointMm } from '../../../drawing/model.ts';

/** What part of a drawing is seen, and how large. */
export interface View {
  /** Point of the drawing in the middle of the screen area, mm. */
  readonly centre: PointMm;
  readonly mmPerPx: number;
}

/** Size of the screen area, CSS px. */
export interface SizePx {
  readonly width: number;
  readonly height: number;
}

/** Space kept free around a fitted drawing, px. */
export interface Margins {
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly left: number;
}

/** The view that shows all of a frame as large as it goes. */
export function fitView(frame: BoundsMm, size: SizePx, margins: Margins): View {
  const width = Math.max(40, size.width - margins.left - margins.right);
  const height = Math.max(40, size.height - margins.top - margins.bottom);
  const mmPerPx = Math.max((frame.maxX - frame.minX) / width, (frame.maxY - frame.minY) / height, 1e-3);
  return {
    centre: {
      x: (frame.minX + frame.maxX) / 2 - ((margins.left - margins.right) / 2) * mmPerPx,
      y: (frame.minY + frame.maxY) / 2 - ((margins.top - margins.bottom) / 2) * mmPerPx,
    },
    mmPerPx,
  };
}

/** The part of the drawing that is seen, mm. */
export function seenBounds({ centre, mmPerPx }: View, size: SizePx): BoundsMm {
  const halfX = (size.width / 2) * mmPerPx;
  const halfY = (size.height / 2) * mmPerPx;
  return { minX: centre.x - halfX, maxX: centre.x + halfX, minY: centre.y - halfY, maxY: centre.y + halfY };
}

/** Where a point of the screen area lies in the drawing, mm. */
export function pointAt(view: View, size: SizePx, xPx: number, yPx: number): PointMm {
  return {
    x: view.centre.x + (xPx - size.width / 2) * view.mmPerPx,
    y: view.centre.y + (yPx - size.height / 2) * view.mmPerPx,
  };
}

/** The view nearer or further by a factor, the given point kept in its place; between `fit` x 1.5 and 20 px a mm. */
export function zoomView(view: View, factor: number, about: PointMm, fit: View): View {
  const mmPerPx = Math.min(Math.max(view.mmPerPx / factor, 0.05), fit.mmPerPx * 1.5);
  const share = mmPerPx / view.mmPerPx;
  return {
    centre: {
      x: about.x + (view.centre.x - about.x) * share,
      y: about.y + (view.centre.y - about.y) * share,
    },
    mmPerPx,
  };
}
