import { analysePlate } from '../mechanics/plate/analyse-plate.ts';
import { checkPlateProblem } from '../mechanics/plate/check-plate-problem.ts';
import type { PlateAnswer } from '../mechanics/plate/plate-problem.ts';
import { InputError } from '../quantity/input-error.ts';
import { readText, say, sayJson } from './door.ts';

/**
 * `plate PROBLEM.json`: frequencies and movements of one plate.
 *
 * @param file     path of the problem
 * @param options  check: estimate the error from a second mesh; json: print the answer as JSON
 * @returns        exit code: 0, or 2 when the problem cannot be used (one sentence on stderr)
 */
export function plateCommand(
  file: string,
  options: { readonly check: boolean; readonly json: boolean },
): number {
  try {
    const problem = checkPlateProblem(readProblem(file));
    const answer = analysePlate(problem, { check: options.check, nowMs: () => performance.now() });
    if (options.json) sayJson(answer);
    else say(asText(answer));
    return 0;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    process.stderr.write(`${error.message}\n`);
    return 2;
  }
}

function readProblem(file: string): unknown {
  const text = readText(file);
  try {
    return JSON.parse(text);
  } catch (error) {
    const why = (error as Error).message.split('\n')[0]!.replace(/\.$/, '');
    throw new InputError('plate-file', `${file} is not JSON (${why}); correct it and try again.`);
  }
}

function asText(answer: PlateAnswer): string {
  const lines = answer.frequenciesHz.map((f, k) => `mode ${k + 1}: ${f.toFixed(2)} Hz`);
  answer.loads.forEach((load, k) => {
    const tilt = load.rotationDeg === undefined ? '' : `, mean slope ${load.rotationDeg.toFixed(3)} degrees`;
    lines.push(`load ${k + 1}: ${load.deflectionMm.toFixed(4)} mm${tilt}`);
  });
  lines.push(`${answer.unknowns} unknowns, edges of about ${answer.meshMm} mm`);
  if (answer.estimatedErrorFrac !== undefined)
    lines.push(
      `estimated error ${(100 * answer.estimatedErrorFrac).toFixed(2)} %, from a coarser and a finer mesh`,
    );
  if (!answer.isCountProven) lines.push('the count of modes could not be proven: one may be missing');
  lines.push(
    'A thin plate without shear: a solid model lies 0 to 5 % lower in frequency and about 4 % higher in tilt.',
  );
  return lines.join('\n');
}
