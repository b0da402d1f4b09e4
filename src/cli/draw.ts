import { allDrawings, drawingNamed, type ListedDrawing } from '../drawing/drawing-table.ts';
import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { PAPER_NAMES, type PaperName } from '../output/paper.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { titleFieldsOf } from '../prints/title-fields.ts';
import { InputError } from '../quantity/input-error.ts';
import { parseLength } from '../quantity/length.ts';
import { say, sayJson, writeWhole } from './door.ts';
import { patternArgument } from './pattern-argument.ts';

/** Options of `draw`. */
export interface DrawOptions {
  readonly what: string;
  readonly format: string;
  readonly paper: string;
  /** What the printer made of the 100 mm line: one length, or two (across, down). */
  readonly printed100?: string;
  readonly out?: string;
  readonly set: readonly string[];
  readonly json?: boolean;
}

const FORMATS = ['svg', 'pdf', 'dxf'] as const;

function wordOf<W extends string>(words: readonly W[], got: string, option: string): W {
  const found = words.find((w) => w === got);
  if (found) return found;
  throw new InputError(
    'unknown-choice',
    `${option} is "${got}"; it must be ${words.slice(0, -1).join(', ')} or ${words.at(-1)}.`,
  );
}

/** `99.2` or `99.2,99.6`, mm unless it says in. */
function printedOf(text: string | undefined): { readonly x: number; readonly y: number } | undefined {
  if (text === undefined) return undefined;
  const parts = text.split(/[,;]\s*/).map((part) => {
    const read = parseLength(part, { unit: 'mm', lowMm: 1, highMm: 1000, what: '--printed-100' });
    if (read.kind === 'length') return read.valueMm;
    throw new InputError(
      'printed-100',
      `--printed-100 is "${text}"; give what the 100 mm line measured, such as 99.4, or two lengths across and down, such as 99.4,99.8.`,
    );
  });
  const [x, y] = parts;
  if (x === undefined || parts.length > 2)
    throw new InputError(
      'printed-100',
      `--printed-100 is "${text}"; give one length, or two with a comma between.`,
    );
  return { x, y: y ?? x };
}

async function pdfOf(
  pattern: Pattern,
  drawings: readonly ListedDrawing[],
  options: DrawOptions,
): Promise<Uint8Array> {
  const [{ drawingsToPdf }, { loadFonts }] = await Promise.all([
    import('../output/pdf.ts'),
    import('../output/fonts-node.ts'),
  ]);
  const sheet = sheetOfPattern(pattern);
  const today = new Date().toISOString().slice(0, 10);
  const printed = printedOf(options.printed100);
  const pages = drawings.map((d) => {
    const drawing = d.draw(sheet);
    return {
      kind: 'full-scale',
      drawing,
      titleFields: titleFieldsOf(pattern, drawing, { revision: 'file', drawnOn: today }),
    } as const;
  });
  return drawingsToPdf(pages, {
    paper: wordOf(PAPER_NAMES, options.paper, '--paper') as PaperName,
    ...(printed ? { printed100Mm: printed } : {}),
    fonts: loadFonts(),
    documentTitle: `${pattern.name}: ${drawings.map((d) => d.title).join(', ')}`,
    createdOn: today,
  });
}

async function contentOf(
  pattern: Pattern,
  drawings: readonly ListedDrawing[],
  options: DrawOptions,
): Promise<string | Uint8Array> {
  const format = wordOf(FORMATS, options.format, '--format');
  if (format === 'pdf') return pdfOf(pattern, drawings, options);
  const one = drawings[0] as ListedDrawing;
  if (drawings.length > 1)
    throw new InputError(
      'one-drawing',
      `A ${format} file holds one drawing; name one with --what, or take --format pdf for all.`,
    );
  const drawing = one.draw(sheetOfPattern(pattern));
  return format === 'svg'
    ? (await import('../output/svg.ts')).drawingToSvg(drawing)
    : (await import('../output/dxf.ts')).drawingToDxf(drawing);
}

/** `draw PATTERN`: a drawing as a file; `--what list` lists them, `--what all` takes all into one PDF. */
export async function drawCommand(name: string, options: DrawOptions): Promise<number> {
  if (options.what === 'list') {
    if (options.json) sayJson(allDrawings.map(({ id, title }) => ({ id, title })));
    else for (const d of allDrawings) say(`${d.id.padEnd(20)} ${d.title}`);
    return 0;
  }
  const { pattern } = patternArgument(name, options.set);
  const named = drawingNamed(options.what);
  const drawings = options.what === 'all' ? allDrawings : named ? [named] : [];
  if (drawings.length === 0)
    throw new InputError(
      'unknown-drawing',
      `There is no drawing "${options.what}"; there are ${allDrawings.map((d) => d.id).join(', ')}, and "all" for one PDF.`,
    );
  if (options.out === undefined) throw new InputError('wrong-use', 'draw needs a file to write: --out FILE.');
  const content = await contentOf(pattern, drawings, options);
  writeWhole(options.out, content);
  if (options.json)
    sayJson({ file: options.out, drawings: drawings.map((d) => d.id), bytes: content.length });
  else say(`Wrote ${options.out}.`);
  return 0;
}
