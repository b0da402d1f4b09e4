import fs from 'node:fs';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { readPattern } from '../../src/pattern/pattern-file.ts';

/** The three starting patterns by file name. */
export const STARTING = ['small-steel-string', 'nylon-string', 'tenor-ukulele'] as const;

const read = new Map<string, Pattern>();

/** A starting pattern, read once. */
export function startingPattern(name: (typeof STARTING)[number]): Pattern {
  const known = read.get(name);
  if (known) return known;
  const pattern = readPattern(fs.readFileSync(`data/patterns/${name}.yaml`, 'utf8'));
  read.set(name, pattern);
  return pattern;
}
