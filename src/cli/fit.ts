import path from 'node:path';
import { fitResidualDrawing } from '../drawing/fit-residual.ts';
import { type FittedFrets, fitFrets } from '../figures/fit-frets.ts';
import {
  type FittedOutline,
  fitOutline,
  OWN_OUTLINE_ABOVE_MM,
  outlineInputs,
} from '../figures/fit-outline.ts';
import type { Point } from '../geometry/point.ts';
import { drawingToSvg } from '../output/svg.ts';
import { editPattern } from '../pattern/edit-pattern.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { readFretPlaces } from '../pattern/read-measured.ts';
import { readTemplate } from '../pattern/read-template.ts';
import { parseSource } from '../pattern/read-yaml.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import { projectRoot, readText, say, sayJson, writeWhole } from './door.ts';

/** Options of `fit-outline`. */
export interface FitOutlineOptions {
  readonly json?: boolean;
  /** Pattern file to write. */
  readonly out?: string;
  /** Drawing of what is left over to write, SVG. */
  readonly svg?: string;
  /** Keep the curve through the measured points instead of the few numbers. */
  readonly own?: boolean;
  /** Which of several closed curves of body size in a drawing, the largest is 1. */
  readonly curve?: number;
}

const STARTING = ['small-steel-string', 'nylon-string', 'tenor-ukulele'] as const;

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
  if (options.svg !== undefined) writeWhole(options.svg, drawingToSvg(fitResidualDrawing(fit)));
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
  for (const file of [options.out, options.svg]) if (file !== undefined) say(`Written to ${file}.`);
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
