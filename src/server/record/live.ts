import type { ServerResponse } from 'node:http';

/** Tells open pages that something arrived. */
export interface Live {
  /** Adds a page that listens; it is told only what `sees` lets through. */
  add(response: ServerResponse, sees: (stream: string) => boolean): void;
  /** Something arrived: each page hears of the last it may see. */
  tell(news: readonly { readonly arrival: number; readonly stream: string }[]): void;
  readonly count: () => number;
  close(): void;
}

const BEAT_MS = 20_000;

/** Makes the list of listening pages. News carry arrival numbers only; pages fetch what is new and may see. */
export function makeLive(): Live {
  const listeners = new Map<ServerResponse, (stream: string) => boolean>();
  const beat = setInterval(() => {
    for (const response of listeners.keys()) response.write(': still here\n\n');
  }, BEAT_MS);
  beat.unref();
  return {
    add: (response, sees) => {
      listeners.set(response, sees);
      response.on('close', () => listeners.delete(response));
    },
    tell: (news) => {
      for (const [response, sees] of listeners) {
        const seen = news.filter((n) => sees(n.stream));
        const last = seen.at(-1);
        if (last) response.write(`id: ${last.arrival}\nevent: arrived\ndata: ${last.arrival}\n\n`);
      }
    },
    count: () => listeners.size,
    close: () => {
      clearInterval(beat);
      for (const response of listeners.keys()) response.end();
      listeners.clear();
    },
  };
}
