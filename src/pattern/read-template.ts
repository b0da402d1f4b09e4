import { joinRuns, largestClosed, type Run } from '../geometry/curve-file.ts';
import { halfWidthsOf } from '../geometry/half-widths.ts';
import { readDxfCurves } from '../geometry/read-dxf.ts';
import { readSvgCurves } from '../geometry/read-svg-path.ts';
import { InputError } from '../quantity/input-error.ts';
import { MM_PER_IN } from '../quantity/units.ts';
import { type MeasuredStations, readStations } from './read-measured.ts';

/** Closed curves at least this large beside the largest may be the outline too. */
const BODY_SHARE = 0.5;

/** Half widths from the closed curve of body size in a drawing. */
function measuredCurve(
  runs: readonly Run[],
  mmPerUnit: number | undefined,
  { file, curve }: TemplateSource,
): MeasuredStations {
  const scale = mmPerUnit ?? 1;
  const scaled = runs.map((r) => ({
    ...r,
    points: r.points.map((p) => ({ xMm: p.xMm * scale, yMm: p.yMm * scale })),
  }));
  const halves = largestClosed(joinRuns(scaled, 0.2), BODY_SHARE).flatMap((c) => halfWidthsOf(c) ?? []);
  const first = halves[0];
  if (!first)
    throw new InputError(
      'no-closed-curve',
      `${file} holds no closed curve; draw the whole outline of the body as one closed line, or give half widths in a .csv file.`,
    );
  if (mmPerUnit === undefined && first.lengthMm < 30) return measuredCurve(runs, MM_PER_IN, { file, curve });
  const lengths = halves.map((h) => h.lengthMm.toFixed(1)).join(', ');
  if (halves.length > 1 && curve === undefined)
    throw new InputError(
      'several-curves',
      `${file} holds ${halves.length} closed curves of body size, ${lengths} mm long; leave only the outline in it, or choose one with --curve 1 to ${halves.length}.`,
    );
  const chosen = halves[(curve ?? 1) - 1];
  if (!chosen)
    throw new InputError(
      'no-such-curve',
      `--curve is ${curve}, and ${file} holds ${halves.length} closed ${halves.length === 1 ? 'curve' : 'curves'} of body size, ${lengths} mm long; choose one of them.`,
    );
  if (chosen.lengthMm < 150 || chosen.lengthMm > 700)
    throw new InputError(
      'curve-size',
      `The closed curve of ${file} is ${chosen.lengthMm.toFixed(1)} mm long, outside 150 to 700 mm of a body; check the unit of the drawing.`,
    );
  return chosen;
}

/** Where a template comes from. */
export interface TemplateSource {
  /** Name of the file, for sentences and its ending. */
  readonly file: string;
  /** Which of several closed curves of body size, the largest is 1. */
  readonly curve?: number | undefined;
}

/**
 * What is measured of a template, from SVG, DXF or rows of numbers.
 *
 * @param text    the file
 * @param source  its name, and which curve when there are several
 * @returns       half widths from the neck end to the tail
 * @throws InputError in one sentence when there is no curve of a body in it, several, or a row that cannot be read
 * @source        plane-geometry
 */
export function readTemplate(text: string, source: TemplateSource): MeasuredStations {
  const { file } = source;
  if (
    /\.svg$/i.test(file) ||
    /^\s*(<\?xml[^>]*>\s*)?(<!--[\s\S]*?-->\s*|<!DOCTYPE[^>]*>\s*)*<svg\b/.test(text)
  )
    return measuredCurve(readSvgCurves(text), 1, source);
  if (/\.dxf$/i.test(file)) {
    const dxf = readDxfCurves(text);
    if (!dxf)
      throw new InputError('no-dxf', `${file} is no DXF in text form; save it as ASCII DXF and try again.`);
    return measuredCurve(dxf.runs, dxf.mmPerUnit, source);
  }
  return readStations(text, file);
}
