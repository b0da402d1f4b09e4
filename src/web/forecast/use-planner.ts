import { useCallback, useEffect, useRef, useState } from 'react';
import type { ForecastNews, ForecastRequest } from './forecast-messages.ts';

/** What a job is at, while it runs. */
export type Progress = Extract<ForecastNews, { readonly kind: 'progress' }>;

/** One job of the planner at a time, in a worker: the page never waits, and a job can be stopped. */
export interface Planner {
  readonly progress: Progress | undefined;
  readonly run: (request: ForecastRequest, onAnswer: (news: ForecastNews) => void) => void;
  readonly cancel: () => void;
}

/** A planner of its own for the component; its job ends with it. */
export function usePlanner(): Planner {
  const [progress, setProgress] = useState<Progress>();
  const worker = useRef<Worker>(undefined);
  const isBusy = useRef(false);
  const cancel = useCallback(() => {
    // a worker at work hears nothing until it is done: it is ended, and the next job gets a new one
    if (isBusy.current) {
      worker.current?.terminate();
      worker.current = undefined;
    }
    isBusy.current = false;
    setProgress(undefined);
  }, []);
  const run = useCallback(
    (request: ForecastRequest, onAnswer: (news: ForecastNews) => void) => {
      cancel();
      worker.current ??= new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
      const at = worker.current;
      const end = (news: ForecastNews) => {
        isBusy.current = false;
        setProgress(undefined);
        onAnswer(news);
      };
      at.onmessage = (event: MessageEvent<ForecastNews>) => {
        const news = event.data;
        if (news.kind === 'progress') setProgress(news);
        else end(news);
      };
      at.onerror = () => {
        worker.current = undefined;
        end({
          kind: 'refused',
          text: 'The planner did not start on this device; load the page again, or use another browser.',
        });
      };
      isBusy.current = true;
      setProgress({ kind: 'progress', words: 'Beginning', shareFrac: 0 });
      at.postMessage(request);
    },
    [cancel],
  );
  useEffect(() => () => worker.current?.terminate(), []);
  return { progress, run, cancel };
}
