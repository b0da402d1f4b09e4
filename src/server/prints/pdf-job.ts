import { loadFonts } from '../../output/fonts-node.ts';
import { drawingsToPdf, type PdfOptions, type PdfPage } from '../../output/pdf.ts';
import { type PrintWish, printOf } from './prints.service.ts';

/** A PDF that is wanted, as plain data: it can be handed to another thread. */
export type PdfJob =
  | { readonly kind: 'pattern'; readonly wish: PrintWish }
  | {
      readonly kind: 'pages';
      readonly pages: readonly PdfPage[];
      readonly options: Omit<PdfOptions, 'fonts'>;
    };

/**
 * Makes the PDF of a job on the thread that asks.
 *
 * @throws InputError when what was typed gives no print
 */
export function runPdfJob(job: PdfJob): Promise<Uint8Array> {
  return job.kind === 'pattern'
    ? printOf(job.wish)
    : drawingsToPdf(job.pages, { ...job.options, fonts: loadFonts() });
}
