import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { expect } from 'vitest';

/**
 * Compares text with a file of `test/golden/`. On a difference the new text is written beside it with `-changed` in
 * its name, for the eye. `UPDATE_GOLDEN=1` takes the new text over.
 */
export function expectGolden(actual: string, name: string): void {
  const folder = new URL('../golden/', import.meta.url);
  const file = new URL(name, folder);
  if (process.env['UPDATE_GOLDEN'] === '1') {
    mkdirSync(folder, { recursive: true });
    writeFileSync(file, actual);
  }
  const expected = existsSync(file) ? readFileSync(file, 'utf8') : '';
  if (expected === actual) return;
  const changed = name.replace(/(\.[a-z]+)$/, '-changed$1');
  writeFileSync(new URL(changed, folder), actual);
  expect.fail(
    `${name} differs: look at test/golden/${changed}; if it is right, run again with UPDATE_GOLDEN=1`,
  );
}
