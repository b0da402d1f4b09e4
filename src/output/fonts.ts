import type { FaceName, FontWeight } from '../drawing/model.ts';

/** One weight of one face: the bytes of its static .woff files, as they are or unpacked (`unpack-woff.ts`). */
export interface FontFiles {
  readonly face: FaceName;
  readonly weight: FontWeight;
  /** Letters of western Europe, figures and signs. */
  readonly latin: Uint8Array;
  /** Further Latin letters (Polish, Czech, Turkish ...). */
  readonly latinExt: Uint8Array;
}

/** What the program carries: Encode Sans 400, 600, 700 and National Park 700 (SIL Open Font Licence 1.1). */
export const FONT_NAMES = [
  { face: 'sans', weight: 400, folder: 'encode-sans' },
  { face: 'sans', weight: 600, folder: 'encode-sans' },
  { face: 'sans', weight: 700, folder: 'encode-sans' },
  { face: 'name', weight: 700, folder: 'national-park' },
] as const satisfies readonly { face: FaceName; weight: FontWeight; folder: string }[];

/** File of one font below `node_modules/@fontsource` or wherever a page serves them. */
export function fontFileName(folder: string, weight: FontWeight, subset: 'latin' | 'latin-ext'): string {
  return `${folder}/files/${folder}-${subset}-${weight}-normal.woff`;
}
