import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { inflateSync } from 'node:zlib';
import { FONT_NAMES, type FontFiles, fontFileName } from './fonts.ts';
import { unpackWoff } from './unpack-woff.ts';

let loaded: readonly FontFiles[] | undefined;

/**
 * The bundled fonts, read from the installed font packages and unpacked (once).
 *
 * @returns  Encode Sans 400, 600, 700 and National Park 700
 */
export function loadFonts(): readonly FontFiles[] {
  loaded ??= FONT_NAMES.map(({ face, weight, folder }) => ({
    face,
    weight,
    latin: readFontFile(folder, weight, 'latin'),
    latinExt: readFontFile(folder, weight, 'latin-ext'),
  }));
  return loaded;
}

function readFontFile(folder: string, weight: 400 | 600 | 700, subset: 'latin' | 'latin-ext'): Uint8Array {
  const require = createRequire(import.meta.url);
  const packages = dirname(dirname(require.resolve(`@fontsource/${folder}/package.json`)));
  const woff = readFileSync(join(packages, fontFileName(folder, weight, subset)));
  return unpackWoff(new Uint8Array(woff), inflateSync);
}
