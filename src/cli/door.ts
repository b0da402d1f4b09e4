import fs from 'node:fs';
import path from 'node:path';
import { InputError } from '../quantity/input-error.ts';

/** Folder of the project: where data/ lies. */
export const projectRoot =
  process.env['BRACEWRIGHT_ROOT'] ?? path.resolve(import.meta.dirname ?? '.', '../..');

const SYSTEM_WORDS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder; check the name',
  EACCES: 'you may not open it; ask for the right to, or choose another place',
  EPERM: 'you may not change it; choose another place',
  EISDIR: 'it is a folder; give the file in it',
  ENOTDIR: 'a part of that path is a file, not a folder; check the name',
  ENOSPC: 'the disk is full; free some space and try again',
  EROFS: 'that disk cannot be written to; choose another place',
};

/** A sentence for a failed file operation. */
export function fileSentence(action: string, file: string, error: unknown): InputError {
  const code = (error as { code?: string }).code ?? '';
  return new InputError(
    `file-${code.toLowerCase() || 'error'}`,
    `${file} cannot be ${action}: ${SYSTEM_WORDS[code] ?? `the system says ${code || String(error)}`}.`,
  );
}

/** Reads a text file. @throws InputError with one sentence */
export function readText(file: string): string {
  try {
    if (fs.statSync(file).size > 32 * 1024 * 1024)
      throw new InputError(
        'file-too-big',
        `${file} is larger than 32 MB, which no file of this program is; give the right file.`,
      );
    return fs.readFileSync(file, 'utf8');
  } catch (error) {
    if (error instanceof InputError) throw error;
    throw fileSentence('read', file, error);
  }
}

/** Writes a file beside its place and then moves it there, so that it is whole or not there. @throws InputError */
export function writeWhole(file: string, content: string | Uint8Array): void {
  const beside = path.join(path.dirname(file), `.${path.basename(file)}.${process.pid}.new`);
  try {
    fs.writeFileSync(beside, content);
    fs.renameSync(beside, file);
  } catch (error) {
    fs.rmSync(beside, { force: true });
    throw fileSentence('written', file, error);
  }
}

/** Prints to standard output. */
export function say(text: string): void {
  process.stdout.write(text.endsWith('\n') ? text : `${text}\n`);
}

/** Prints JSON. */
export function sayJson(value: unknown): void {
  process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
}
