import fs from 'node:fs';
import path from 'node:path';
import { editPattern, type PatternEdit } from '../pattern/edit-pattern.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { InputError } from '../quantity/input-error.ts';
import { projectRoot, readText } from './door.ts';

/** A pattern named on the command line: a file, or one of the starting patterns by name. */
export interface NamedPattern {
  readonly text: string;
  readonly pattern: Pattern;
}

const startingFolder = path.join(projectRoot, 'data/patterns');

function textOf(name: string): string {
  if (fs.existsSync(name)) return readText(name);
  const starting = fs.readdirSync(startingFolder).map((f) => f.replace(/\.yaml$/, ''));
  if (starting.includes(name)) return readText(path.join(startingFolder, `${name}.yaml`));
  throw new InputError(
    'file-enoent',
    `There is no pattern file ${name}; give a file, or one of the starting patterns: ${starting.sort().join(', ')}.`,
  );
}

/** `input=value` as given behind --set. @throws InputError */
function editOf(assignment: string): PatternEdit {
  const cut = assignment.indexOf('=');
  if (cut < 1)
    throw new InputError(
      'wrong-use',
      `--set "${assignment}" has no "="; write it as input=value, such as body.waist.width=240.`,
    );
  return { id: assignment.slice(0, cut).trim(), value: assignment.slice(cut + 1).trim() };
}

/**
 * Reads the pattern named on the command line with the changes of --set.
 *
 * @throws InputError with one sentence, naming the file
 */
export function patternArgument(name: string, sets: readonly string[] = []): NamedPattern {
  const text = textOf(name);
  const edits = sets.map(editOf);
  try {
    const edited = edits.length > 0 ? editPattern(text, edits) : text;
    return { text: edited, pattern: readPattern(edited) };
  } catch (error) {
    if (error instanceof InputError && edits.length === 0)
      throw new InputError(error.code, `${name}: ${error.message}`, error.member);
    throw error;
  }
}
