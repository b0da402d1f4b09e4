import path from 'node:path';
import { type FittedFrets, fitFrets } from '../figures/fit-frets.ts';
import {
  type FittedOutline,
  fitOutline,
  type MeasuredOutline,
  OWN_OUTLINE_ABOVE_MM,
  outlineInputs,
} from '../figures/fit-outline.ts';
import { joinRuns, largestClosed, type Run } from '../geometry/curve-file.ts';
import { halfWidthsOf } from '../geometry/half-widths.ts';
import type { Point } from '../geometry/point.ts';
import { readDxfCurves } from '../geometry/read-dxf.ts';
import { readSvgCurves } from '../geometry/read-svg-path.ts';
import { editPattern } from '../pattern/edit-pattern.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { readFretPlaces, readStations } from '../pattern/read-measured.ts';
import { parseSource } from '../pattern/read-yaml.ts';
import { InputError } from '../quantity/input-error.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import { projectRoot, readText, say, sayJson, writeWhole } from './door.ts';

/** Options of `fit-outline`. */
export interface FitOutlineOptions {
  readonly json?: boolean;
  /** Pattern file to write. */
  readonly out?: string;
  /** Keep the curve through the measured points instead of the few numbers. */
  readonly own?: boolean;
  /** Which of several closed curves of body size in a drawing, the largest is 1. */
  readonly curve?: number;
}

const STARTING = ['small-steel-string', 'nylon-string', 'tenor-ukulele'] as const;

/** Closed curves at least this large beside the largest may be the outline too. */
const BODY_SHARE = 0.5;

/** Half widths from the closed curve of body size in a drawing. */
function measuredCurve(
  runs: readonly Run[],
  mmPerUnit: number | undefined,
  { file, curve }: TemplateSource,
): MeasuredOutline {
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
  if (mmPerUnit === undefined && first.lengthMm < 30) return measuredCurve(runs, 25.4, { file, curve });
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

/** What is measured of a template, from SVG, DXF or rows of numbers. */
export function readTemplate(text: string, source: TemplateSource): MeasuredOutline {
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

/** The starting pattern whose body is nearest in length. */
function nearestStart(lengthMm: number): { readonly name: string; readonly text: string } {
  const all = STARTING.map((name) => {
    const text = readText(path.join(projectRoot, 'data', 'patterns', `${name}.yaml`));
    const offMm = Math.abs((readPattern(text).numbers.get('body.length') ?? 0) - lengthMm);
    return { name, text, offMm };
  });
  return all.reduce((a, b) => (b.offMm < a.offMm ? b : a));
}

/** Adds the measured points as own outline to a pattern text. */
function withOwnOutline(text: string, points: readonly Point[]): string {
  const { document } = parseSource(text, 'pattern');
  const rows = points.map((p) => [`${Number(p.xMm.toFixed(3))} mm`, `${Number(p.yMm.toFixed(3))} mm`]);
  document.setIn(['body', 'own_outline'], document.createNode(rows, { flow: true }));
  return document.toString({ lineWidth: 0, flowCollectionPadding: false });
}

/**
 * The pattern of a fitted outline as text: the starting pattern nearest in length with the fitted numbers as the teacher's own.
 *
 * @param isOwn  also keep the curve through the measured points; it then drives everything
 */
export function fittedPatternText(fit: FittedOutline, title: string, isOwn: boolean): string {
  const start = nearestStart(fit.numbers.lengthMm);
  const numbers = outlineInputs(fit.numbers).map(([id, value]) => ({ id, value }));
  const text = editPattern(start.text, [{ id: 'name', value: title }, ...numbers]);
  return isOwn ? withOwnOutline(text, fit.ownPoints) : text;
}

const mm = (value: number, digits = 2): string => formatDecimal(value, digits);

/** `fit-outline FILE`: the few numbers of a template, with residuals. */
export function fitOutlineCommand(file: string, options: FitOutlineOptions): number {
  const fit = fitOutline(readTemplate(readText(file), { file: path.basename(file), curve: options.curve }));
  const title = path.basename(file).replace(/\.[^.]*$/, '');
  const text = fittedPatternText(fit, title, options.own === true);
  readPattern(text);
  if (options.out !== undefined) writeWhole(options.out, text);
  if (options.json)
    sayJson({
      numbers: Object.fromEntries(
        outlineInputs(fit.numbers).map(([id, value]) => [id, { value_mm: Number(value.toFixed(4)) }]),
      ),
      residuals: fit.residuals.map((r) => ({
        y_mm: r.yMm,
        half_width_mm: r.halfWidthMm,
        residual_mm: Number(r.residualMm.toFixed(4)),
      })),
      largest_mm: Number(fit.largestMm.toFixed(4)),
      largest_at_y_mm: fit.largestAtYMm,
      rms_mm: Number(fit.rmsMm.toFixed(4)),
      own_outline_offered: fit.isOwnOffered,
      own_outline_kept: options.own === true,
      ...(options.out === undefined ? {} : { written: options.out }),
    });
  else printOutline(fit, options);
  return 0;
}

function printOutline(fit: FittedOutline, options: FitOutlineOptions): void {
  for (const [id, value] of outlineInputs(fit.numbers)) say(`${id.padEnd(26)} ${mm(value)} mm`);
  say('');
  for (const r of fit.residuals)
    say(
      `y ${mm(r.yMm, 1).padStart(6)}  half width ${mm(r.halfWidthMm).padStart(7)}  off ${mm(r.residualMm).padStart(6)} mm`,
    );
  say(
    `Largest ${mm(fit.largestMm)} mm at y ${mm(fit.largestAtYMm, 1)} mm, root mean square ${mm(fit.rmsMm)} mm.`,
  );
  if (fit.isOwnOffered && !options.own)
    say(
      `That is over ${OWN_OUTLINE_ABOVE_MM} mm: the few numbers do not draw this template; --own keeps the curve through the measured points.`,
    );
  if (options.out !== undefined) say(`Written to ${options.out}.`);
}

/** `fit-frets FILE`: scale length and worst slot of a fretboard. */
export function fitFretsCommand(file: string, options: { readonly json?: boolean }): number {
  const fit = fitFrets(readFretPlaces(readText(file), path.basename(file)));
  if (options.json)
    sayJson({
      scale_mm: Number(fit.scaleMm.toFixed(4)),
      nut_mm: Number(fit.nutMm.toFixed(4)),
      rms_mm: Number(fit.rmsMm.toFixed(4)),
      worst: fretJson(fit.worst),
      frets: fit.residuals.map(fretJson),
    });
  else printFrets(fit);
  return 0;
}

const fretJson = (r: FittedFrets['worst']) => ({
  fret: r.fret,
  place_mm: r.placeMm,
  residual_mm: Number(r.residualMm.toFixed(4)),
  cents: Number(r.cents.toFixed(3)),
});

function printFrets(fit: FittedFrets): void {
  say(`Scale length ${mm(fit.scaleMm)} mm, ${mm(fit.scaleMm / 25.4, 3)} in.`);
  say(`Theoretical nut at ${mm(fit.nutMm)} mm of the measured places.`);
  for (const r of fit.residuals)
    say(
      `fret ${String(r.fret).padStart(2)}  place ${mm(r.placeMm).padStart(7)}  off ${mm(r.residualMm).padStart(6)} mm  ${mm(r.cents, 1).padStart(5)} cents`,
    );
  const { fret, residualMm, cents } = fit.worst;
  say(
    `Worst slot: fret ${fret}, ${mm(Math.abs(residualMm))} mm toward the ${residualMm < 0 ? 'nut' : 'bridge'}, ${mm(Math.abs(cents), 1)} cents ${cents < 0 ? 'flat' : 'sharp'}.`,
  );
}
