import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A part of a page as grey pixels: `inkAt(x, y)` is 0 on white paper and 1 in full black. */
export interface Raster {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly mmPerPx: number;
  inkAt(xPx: number, yPx: number): number;
}

/** A part of a page, mm from its upper left corner. */
export interface CropMm {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Whether the rasteriser is there. When it is not, says so in one line; in CI that is a failure. */
export function hasRasteriser(what: string): boolean {
  if (spawnSync('pdftoppm', ['-v']).error === undefined) return true;
  const line = `not run: ${what}, because pdftoppm (package poppler-utils) is not installed`;
  if (process.env['CI'] !== undefined) throw new Error(line);
  console.log(line);
  return false;
}

/** Makes pixels of a part of one page of a PDF. */
export function rasterise(pdf: Uint8Array, page: number, crop: CropMm, dpi = 600): Raster {
  const mmPerPx = 25.4 / dpi;
  const px = (mm: number) => String(Math.round(mm / mmPerPx));
  const folder = mkdtempSync(join(tmpdir(), 'raster-'));
  try {
    writeFileSync(join(folder, 'in.pdf'), pdf);
    execFileSync('pdftoppm', [
      ...['-r', String(dpi), '-gray', '-singlefile', '-f', String(page), '-l', String(page)],
      ...['-x', px(crop.x), '-y', px(crop.y), '-W', px(crop.width), '-H', px(crop.height)],
      join(folder, 'in.pdf'),
      join(folder, 'out'),
    ]);
    return readPgm(readFileSync(join(folder, 'out.pgm')), mmPerPx);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function readPgm(bytes: Buffer, mmPerPx: number): Raster {
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 64).toString('latin1'));
  if (head === null) throw new Error('not a PGM picture');
  const [widthPx, heightPx, start] = [Number(head[1]), Number(head[2]), head[0].length];
  return {
    widthPx,
    heightPx,
    mmPerPx,
    inkAt: (x, y) => 1 - bytes[start + y * widthPx + x]! / 255,
  };
}

/** Ink of each column (or row) of a raster, summed over the other direction. */
export function inkProfile(raster: Raster, over: 'columns' | 'rows'): readonly number[] {
  const isColumns = over === 'columns';
  const [count, depth] = isColumns ? [raster.widthPx, raster.heightPx] : [raster.heightPx, raster.widthPx];
  return Array.from({ length: count }, (_, i) => {
    let sum = 0;
    for (let j = 0; j < depth; j++) sum += isColumns ? raster.inkAt(i, j) : raster.inkAt(j, i);
    return sum;
  });
}

/** Middles of the runs of a profile whose ink is at least `leastShare` of the greatest, mm from the raster's edge. */
export function strokeMiddlesMm(
  raster: Raster,
  over: 'columns' | 'rows',
  leastShare = 0.6,
): readonly number[] {
  const profile = inkProfile(raster, over);
  const least = Math.max(...profile) * leastShare;
  const middles: number[] = [];
  let [weight, moment] = [0, 0];
  for (let i = 0; i <= profile.length; i++) {
    const ink = profile[i] ?? 0;
    // the pale rim of a stroke belongs to its middle too
    if (ink >= least * 0.15 && Math.max(profile[i - 1] ?? 0, ink, profile[i + 1] ?? 0) >= least) {
      weight += ink;
      moment += ink * (i + 0.5);
    } else if (weight > 0) {
      middles.push((moment / weight) * raster.mmPerPx);
      [weight, moment] = [0, 0];
    }
  }
  return middles;
}

/** All ink of a raster, in full-black pixels. */
export function totalInk(raster: Raster): number {
  return inkProfile(raster, 'columns').reduce((sum, ink) => sum + ink, 0);
}
