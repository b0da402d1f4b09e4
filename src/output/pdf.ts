import PDFDocument from 'pdfkit';
import { type FixedPage, fixedPages } from './fixed-pages.ts';
import type { FontFiles } from './fonts.ts';
import { type FullScalePage, fullScalePages } from './full-scale-pages.ts';
import type { PaperName } from './paper.ts';
import { paintEntities } from './pdf-paint.ts';
import { type PdfWriter, pdfWriter } from './pdf-text.ts';
import { type PrintedCheckMm, pageStretch } from './printer-correction.ts';
import type { SheetPage } from './sheet-page.ts';

/** A drawing at full scale (tiled when the paper is too small) or one laid out beforehand. */
export type PdfPage = FullScalePage | FixedPage;

/** How a PDF is made. */
export interface PdfOptions {
  readonly paper: PaperName;
  /** What the printer made of the 100 mm lines, across and down; left out: it is true. */
  readonly printed100Mm?: PrintedCheckMm;
  readonly fonts: readonly FontFiles[];
  readonly documentTitle: string;
  /** Day written into the file, e.g. `2027-01-15`; the same day gives the same bytes. */
  readonly createdOn: string;
}

const PT_PER_MM = 72 / 25.4;

/**
 * Pages as one PDF file: full-scale drawings on the paper asked for, with tiles, marks, check lines and title blocks;
 * cards and other laid-out pages 1 : 1. Same input, same bytes.
 *
 * @throws InputError when the printed check length is not between 90 and 110 mm
 * @throws RangeError when there is no page, `createdOn` is no day, or a laid-out page is larger than the paper
 */
export async function drawingsToPdf(pages: readonly PdfPage[], options: PdfOptions): Promise<Uint8Array> {
  const sheets = layOutPages(pages, options);
  if (sheets.length === 0) throw new RangeError('drawingsToPdf: 0 pages, at least 1 is needed');
  const doc = openDocument(options);
  const bytes = collectBytes(doc);
  const writer = pdfWriter(doc, options.fonts);
  for (const sheet of sheets) paintSheet(doc, sheet, writer);
  doc.end();
  return bytes;
}

/**
 * The pages of paper that a PDF would have, as data.
 *
 * @source arithmetic
 */
export function layOutPages(
  pages: readonly PdfPage[],
  { paper, printed100Mm }: Pick<PdfOptions, 'paper' | 'printed100Mm'>,
): readonly SheetPage[] {
  const stretch = pageStretch(printed100Mm);
  const sheets: SheetPage[] = [];
  let fixed: FixedPage[] = [];
  const flush = () => {
    sheets.push(...fixedPages(fixed, { paper, stretch }));
    fixed = [];
  };
  for (const page of pages) {
    if (page.kind === 'fixed') fixed.push(page);
    else {
      flush();
      sheets.push(...fullScalePages(page, { paper, stretch, printed100Mm }));
    }
  }
  flush();
  return sheets;
}

function openDocument({ documentTitle, createdOn }: PdfOptions): PDFKit.PDFDocument {
  const doc = new PDFDocument({
    autoFirstPage: false,
    margin: 0,
    // no standard font: in a browser there is none, and every word here is in a bundled one
    font: '',
    pdfVersion: '1.7',
    lang: 'en',
    info: {
      Title: documentTitle,
      Creator: 'Bracewright',
      Producer: 'Bracewright',
      CreationDate: dayOf(createdOn),
    },
  });
  // tells print dialogs not to fit the page to the paper
  const root = (doc as unknown as { _root: { data: Record<string, unknown> } })._root;
  root.data['ViewerPreferences'] = doc.ref({ DisplayDocTitle: true, PrintScaling: 'None' });
  return doc;
}

/** Noon of a day, so that the date is the same in most time zones. */
function dayOf(createdOn: string): Date {
  const day = new Date(`${createdOn}T12:00:00Z`);
  if (Number.isNaN(day.getTime()))
    throw new RangeError(`drawingsToPdf: createdOn is "${createdOn}", it must be a day such as 2027-01-15`);
  return day;
}

function collectBytes(doc: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = [];
    doc.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    doc.on('error', reject);
    doc.on('end', () => {
      const all = new Uint8Array(chunks.reduce((sum, chunk) => sum + chunk.length, 0));
      let at = 0;
      for (const chunk of chunks) {
        all.set(chunk, at);
        at += chunk.length;
      }
      resolve(all);
    });
  });
}

function paintSheet(doc: PDFKit.PDFDocument, sheet: SheetPage, writer: PdfWriter): void {
  const { label, paper, stretch, groups } = sheet;
  doc.addPage({ size: [paper.widthMm * PT_PER_MM, paper.heightMm * PT_PER_MM], margin: 0 });
  doc.outline.addItem(label);
  doc.scale(PT_PER_MM * stretch.xRatio, PT_PER_MM * stretch.yRatio);
  for (const { entities, shift, clip } of groups) {
    doc.save();
    if (clip !== undefined)
      doc.rect(clip.minX, clip.minY, clip.maxX - clip.minX, clip.maxY - clip.minY).clip();
    doc.translate(shift.x, shift.y);
    paintEntities(doc, entities, writer);
    doc.restore();
  }
}
