import { readFileSync } from 'node:fs';
import { allDrawings } from '../src/drawing/drawing-table.ts';
import { sheetOfPattern } from '../src/figures/pattern-sheet.ts';
import { drawingToDxf } from '../src/output/dxf.ts';
import { loadFonts } from '../src/output/fonts-node.ts';
import { drawingsToPdf } from '../src/output/pdf.ts';
import { drawingToSvg } from '../src/output/svg.ts';
import { readPattern } from '../src/pattern/pattern-file.ts';
import { titleFieldsOf } from '../src/prints/title-fields.ts';
import { middleOf } from './_middle.ts';

const RUN_COUNT = 7;

/** The whole pack of drawings of one pattern has to be a PDF within this. */
const PACK_LIMIT_MS = 3000;

const pattern = readPattern(
  readFileSync(new URL('../data/patterns/small-steel-string.yaml', import.meta.url), 'utf8'),
);

async function packPdf(paper: 'letter' | 'sheet'): Promise<number> {
  const sheet = sheetOfPattern(pattern);
  const pages = allDrawings.map(({ draw }) => {
    const drawing = draw(sheet);
    const titleFields = titleFieldsOf(pattern, drawing, { revision: '1', drawnOn: '15 Jan 2027' });
    return { kind: 'full-scale', drawing, titleFields } as const;
  });
  const options = {
    paper,
    fonts: loadFonts(),
    documentTitle: pattern.name,
    createdOn: '2027-01-15',
  } as const;
  return (await drawingsToPdf(pages, options)).length;
}

function packText(write: (drawing: ReturnType<(typeof allDrawings)[number]['draw']>) => string): number {
  const sheet = sheetOfPattern(pattern);
  return allDrawings.reduce((sum, { draw }) => sum + write(draw(sheet)).length, 0);
}

const rows = [
  { name: 'pack as PDF on Letter, tiled', work: () => packPdf('letter'), limitMs: PACK_LIMIT_MS },
  { name: 'pack as PDF, one sheet each', work: () => packPdf('sheet'), limitMs: PACK_LIMIT_MS },
  { name: 'pack as SVG', work: async () => packText(drawingToSvg), limitMs: undefined },
  { name: 'pack as DXF', work: async () => packText(drawingToDxf), limitMs: undefined },
];

/** Prints how long the whole pack of drawings of one pattern takes: sheet of figures, drawings and file. */
export async function run(): Promise<void> {
  console.log(
    `${allDrawings.length} drawings of ${pattern.name}; middle of ${RUN_COUNT} runs, first run apart`,
  );
  for (const { name, work, limitMs } of rows) {
    const times: number[] = [];
    let size = 0;
    for (let turn = 0; turn < RUN_COUNT; turn++) {
      const begun = performance.now();
      size = await work();
      times.push(performance.now() - begun);
    }
    const first = times[0] ?? 0;
    const middle = middleOf(times);
    const limit =
      limitMs === undefined ? '' : `  limit ${limitMs} ms: ${middle < limitMs ? 'met' : 'broken'}`;
    console.log(
      `${name.padEnd(30)} ${middle.toFixed(0).padStart(6)} ms  first ${first.toFixed(0).padStart(6)} ms  ${size} bytes${limit}`,
    );
  }
}
