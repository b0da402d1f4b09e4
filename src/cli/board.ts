import { parseDocument } from 'yaml';
import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { coarseTop } from '../figures/structure.ts';
import { topInput } from '../figures/top-input.ts';
import { cellOf, figureValue, numberOf } from '../graph/sheet.ts';
import type { TopInput } from '../mechanics/top-problem.ts';
import { isFinding } from '../quantity/finding.ts';
import { InputError } from '../quantity/input-error.ts';
import type { Estimate } from '../wood/board.ts';
import { answerBoard, type BoardAnswer, withEqualTilt } from '../wood/board-answer.ts';
import { type BoardFile, type ReferenceMembers, readBoardFile } from '../wood/board-file.ts';
import { equalTiltThicknessMm } from '../wood/board-thickness.ts';
import { readText, say, sayJson } from './door.ts';
import { patternArgument } from './pattern-argument.ts';

/** The pattern whose top is tried when none is named. */
export const usualPattern = 'small-steel-string';

/**
 * `board FILE`: what one measured board is and how thick it wants to be.
 *
 * @param file     path of a board file, YAML or JSON
 * @param options  json: print the answer as JSON; pattern: file or name of the pattern whose top it is for
 * @returns        exit code: 0, or 2 when the file cannot be used (one sentence on stderr)
 */
export function boardCommand(
  file: string,
  options: { readonly json: boolean; readonly pattern?: string },
): number {
  try {
    const value = readYaml(file);
    const drawn = drawnTop(options.pattern ?? usualPattern);
    const board = readBoardFile(value, drawn.reference);
    const plain = answerBoard(board);
    const tiltMm = equalTiltThicknessMm(coarseTop(drawn.top), board.reference, plain.material);
    const answer = withEqualTilt(board, plain, tiltMm);
    if (options.json) sayJson({ ...asJson(board, answer), pattern: drawn.name });
    else say(`${asText(board, answer)}\nThe whole top is that of ${drawn.name}.`);
    return 0;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    process.stderr.write(`${error.message}\n`);
    return 2;
  }
}

/** The top of a pattern and the board it is drawn for. @throws InputError when the pattern does not give its top */
function drawnTop(name: string): {
  readonly name: string;
  readonly top: TopInput;
  readonly reference: ReferenceMembers;
} {
  const { pattern } = patternArgument(name);
  // nothing that takes the plate engine is asked of the sheet
  const sheet = sheetOfPattern(pattern, { dear: () => undefined });
  const top = figureValue(sheet, topInput);
  if (!top) {
    const cell = cellOf(sheet, topInput.id);
    throw new InputError(
      'board-pattern',
      isFinding(cell)
        ? cell.text
        : `${name} does not give enough of its top; give outline, braces, bridge and strings.`,
    );
  }
  const { wood, thicknessMm } = top;
  return {
    name: pattern.name,
    top,
    reference: {
      thickness_mm: thicknessMm,
      e_along_gpa: wood.eAlongMPa / 1000,
      e_across_gpa: wood.eAcrossMPa / 1000,
      shear_gpa: wood.shearMPa / 1000,
      density_kg_m3: wood.densityKgPerM3,
      low_mm: numberOf(sheet, 'top.thickness.scrap') ?? thicknessMm,
      high_mm: numberOf(sheet, 'top.thickness.most') ?? thicknessMm,
    },
  };
}

function readYaml(file: string): unknown {
  const document = parseDocument(readText(file));
  const [fault] = document.errors;
  if (fault) {
    const why = fault.message.split('\n')[0]!.replace(/[.:]$/, '');
    throw new InputError(
      'board-file',
      `${file} is neither YAML nor JSON (${why}); correct it and try again.`,
    );
  }
  return document.toJS();
}

const properties = [
  ['density_kg_m3', 'Density', 'kg/m3', (a: BoardAnswer) => a.properties.densityKgPerM3, 0],
  ['e_along_mpa', 'E along', 'MPa', (a: BoardAnswer) => a.properties.eAlongMPa, 0],
  ['e_across_mpa', 'E across', 'MPa', (a: BoardAnswer) => a.properties.eAcrossMPa, 0],
  ['shear_mpa', 'Shear modulus', 'MPa', (a: BoardAnswer) => a.properties.shearMPa, 0],
] as const;

function asJson(board: BoardFile, answer: BoardAnswer): Readonly<Record<string, unknown>> {
  const estimate = (e: Estimate) => ({ value: e.value, plus_minus: e.plusMinus, from: e.from });
  return {
    name: board.name,
    ...Object.fromEntries(properties.map(([key, , , pick]) => [key, estimate(pick(answer))])),
    thickness: answer.thickness.map(({ rule, wantedMm, usedMm, reason }) => ({
      rule,
      wanted_mm: wantedMm,
      used_mm: usedMm,
      reason,
    })),
    thickness_plus_minus_mm: answer.thicknessPlusMinusMm,
    ring_angle_frac: answer.ringAngleFrac,
    runout_frac: answer.runoutFrac,
    doubts: answer.properties.doubts.map(({ code, text, source }) => ({ code, text, source })),
  };
}

function asText(board: BoardFile, answer: BoardAnswer): string {
  const lines = [board.name];
  for (const [, label, unit, pick, digits] of properties) {
    const { value, plusMinus, from } = pick(answer);
    lines.push(`${label}: ${value.toFixed(digits)} +- ${plusMinus.toFixed(digits)} ${unit} (${from})`);
  }
  for (const { rule, reason } of answer.thickness) lines.push(`Thickness by ${rule}: ${reason}`);
  lines.push(`Uncertain by about ${answer.thicknessPlusMinusMm.toFixed(2)} mm from the stiffness alone.`);
  if (board.ringAngleDeg > 0)
    lines.push(
      `Rings at ${board.ringAngleDeg} degrees leave ${(100 * answer.ringAngleFrac).toFixed(0)} % of the stiffness across.`,
    );
  if (board.runoutDeg > 0)
    lines.push(
      `Runout of ${board.runoutDeg} degrees leaves ${(100 * answer.runoutFrac).toFixed(0)} % of the stiffness along.`,
    );
  for (const { text } of answer.properties.doubts) lines.push(`Doubtful: ${text}`);
  return lines.join('\n');
}
