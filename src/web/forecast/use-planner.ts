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
  const cancel = useCallback(() => {
    worker.current?.terminate();
    worker.current = undefined;
    setProgress(undefined);
  }, []);
  const run = useCallback(
    (request: ForecastRequest, onAnswer: (news: ForecastNews) => void) => {
      cancel();
      const next = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
      next.onmessage = (event: MessageEvent<ForecastNews>) => {
        const news = event.data;
        if (news.kind === 'progress') setProgress(news);
        else {
          cancel();
          onAnswer(news);
        }
      };
      next.onerror = () => {
        cancel();
        onAnswer({
          kind: 'refused',
          text: 'The planner did not start on this device; load the page again, or use another browser.',
        });
      };
      worker.current = next;
      setProgress({ kind: 'progress', words: 'Beginning', shareFrac: 0 });
      next.postMessage(request);
    },
    [cancel],
  );
  useEffect(() => () => worker.current?.terminate(), []);
  return { progress, run, cancel };
}
