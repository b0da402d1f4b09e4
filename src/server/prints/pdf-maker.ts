import { Worker } from 'node:worker_threads';
import { InputError } from '../../quantity/input-error.ts';
import { Refusal } from '../refusal.ts';
import { type PdfJob, runPdfJob } from './pdf-job.ts';
import type { PdfAnswer } from './pdf-worker.ts';

/** Makes PDFs for the routes. */
export interface PdfMaker {
  /**
   * @throws InputError when what was typed gives no print
   * @throws Refusal when too many prints wait
   */
  make(job: PdfJob): Promise<Uint8Array>;
  close(): Promise<void>;
}

/** Makes each PDF on the thread that asks: for tests and tools. */
export const pdfMakerHere: PdfMaker = { make: runPdfJob, close: () => Promise.resolve() };

/** Prints that may wait before another is refused. */
const MOST_WAITING = 20;

interface Waiting {
  readonly job: PdfJob;
  readonly done: (pdf: Uint8Array) => void;
  readonly failed: (error: Error) => void;
}

/**
 * Makes PDFs one after another on a thread beside, so that no reading waits while a page is set. The thread starts
 * with the first print; one that dies fails its own print and is replaced.
 *
 * @param file  the bundled `pdf-worker`
 */
export function pdfMakerBeside(file: string): PdfMaker {
  const queue: Waiting[] = [];
  let thread: Worker | undefined;
  let current: Waiting | undefined;

  const next = (): void => {
    if (current || queue.length === 0) return;
    current = queue.shift() as Waiting;
    thread ??= start();
    thread.postMessage(current.job);
  };
  const finish = (settle: (w: Waiting) => void): void => {
    const w = current;
    current = undefined;
    if (w) settle(w);
    next();
  };
  const start = (): Worker => {
    const worker = new Worker(file);
    worker.unref();
    worker.on('message', (a: PdfAnswer) =>
      finish((w) => {
        if ('pdf' in a) w.done(a.pdf);
        else if ('refused' in a)
          w.failed(new InputError(a.refused.code, a.refused.message, a.refused.member));
        else w.failed(new Error(a.fault));
      }),
    );
    const gone = (why: string): void => {
      if (thread !== worker) return;
      thread = undefined;
      finish((w) => w.failed(new Error(why)));
    };
    worker.on('error', (error) => gone(error.message));
    worker.on('exit', (code) => gone(`the print thread ended with ${code}`));
    return worker;
  };

  return {
    make: (job) =>
      new Promise((done, failed) => {
        if (queue.length >= MOST_WAITING) {
          failed(
            new Refusal(
              503,
              'too-many-prints',
              `${MOST_WAITING} prints wait already; ask again when they are out.`,
            ),
          );
          return;
        }
        queue.push({ job, done, failed });
        next();
      }),
    close: async () => {
      const worker = thread;
      thread = undefined;
      for (const w of queue.splice(0)) w.failed(new Error('the server is stopping'));
      await worker?.terminate();
      finish((w) => w.failed(new Error('the server is stopping')));
    },
  };
}
