import { useCallback, useEffect, useRef, useState } from 'react';
import type { Ask, Told } from './messages.ts';

/** What the worker is doing. */
export interface Progress {
  readonly stage: string;
  readonly partFrac: number;
}

/** Leaves the id to the engine. */
type Question = Ask extends infer A ? (A extends Ask ? Omit<A, 'id'> : never) : never;

/** One worker for the plate engine. A new question stops the one before it; so does `cancel`. */
export function useEngine(onTold: (told: Told) => void): {
  readonly progress: Progress | undefined;
  readonly ask: (question: Question) => void;
  readonly cancel: () => void;
} {
  const worker = useRef<Worker>(undefined);
  const asked = useRef(0);
  const isBusy = useRef(false);
  const listener = useRef(onTold);
  const [progress, setProgress] = useState<Progress>();
  useEffect(() => {
    listener.current = onTold;
  }, [onTold]);

  const cancel = useCallback(() => {
    // the engine computes in one go: ending the worker is the only quick way to stop it
    worker.current?.terminate();
    worker.current = undefined;
    isBusy.current = false;
    setProgress(undefined);
  }, []);

  const ask = useCallback(
    (question: Question) => {
      if (isBusy.current) cancel();
      worker.current ??= beginWorker((told) => {
        if (told.id !== asked.current) return;
        if (told.kind === 'stage') {
          setProgress({ stage: told.stage, partFrac: told.partFrac });
          return;
        }
        isBusy.current = false;
        setProgress(undefined);
        listener.current(told);
      });
      asked.current++;
      isBusy.current = true;
      setProgress({ stage: 'beginning', partFrac: 0 });
      worker.current.postMessage({ ...question, id: asked.current });
    },
    [cancel],
  );
  useEffect(() => cancel, [cancel]);
  return { progress, ask, cancel };
}

function beginWorker(onTold: (told: Told) => void): Worker {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  worker.addEventListener('message', ({ data }: MessageEvent<Told>) => onTold(data));
  return worker;
}
