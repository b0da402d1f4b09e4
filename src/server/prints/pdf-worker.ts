import { parentPort } from 'node:worker_threads';
import { InputError } from '../../quantity/input-error.ts';
import { type PdfJob, runPdfJob } from './pdf-job.ts';

/** What the thread answers to one job. */
export type PdfAnswer =
  | { readonly pdf: Uint8Array }
  | { readonly refused: { readonly code: string; readonly message: string; readonly member?: string } }
  | { readonly fault: string };

async function answer(job: PdfJob): Promise<PdfAnswer> {
  try {
    return { pdf: await runPdfJob(job) };
  } catch (error) {
    if (!(error instanceof InputError)) return { fault: error instanceof Error ? error.message : 'unknown' };
    const { code, message, member } = error;
    return { refused: { code, message, ...(member === undefined ? {} : { member }) } };
  }
}

parentPort?.on('message', (job: PdfJob) => {
  void answer(job).then((a) => parentPort?.postMessage(a));
});
