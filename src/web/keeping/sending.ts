import { dropUnsent, keepUnsent, unsentRevisions } from './device.ts';
import { tellKept } from './kept.ts';
import { askPatterns, type SendResult, sendRevision } from './server.ts';

const RETRY_MS = 15_000;
const listeners = new Set<(patternId: string, result: SendResult) => void>();
let isSending = false;

/** Tells when a revision that waited was sent or refused. */
export function onSent(tell: (patternId: string, result: SendResult) => void): () => void {
  listeners.add(tell);
  return () => listeners.delete(tell);
}

/**
 * Sends what waits, oldest first; stops at the first that the server does not take for now. A revision made on top of
 * another that waited gets that one's hash as its parent.
 */
export async function sendUnsent(): Promise<void> {
  if (isSending) return;
  isSending = true;
  try {
    const newest = new Map<string, string>();
    for (const waiting of await unsentRevisions()) {
      const { key, patternId, text, note } = waiting;
      const parent = newest.get(patternId) ?? waiting.parent;
      const result = await sendRevision(patternId, { text, parent, note });
      if (result.kind === 'unreached') {
        tellKept({ isReached: false });
        return;
      }
      tellKept({ isReached: true });
      // it stays on this device: nothing typed is lost because of the door it came by
      if (result.kind === 'refused' && result.isOtherDoor) return;
      if ('hash' in result) newest.set(patternId, result.hash);
      if (key !== undefined) await dropUnsent(key);
      for (const tell of listeners) tell(patternId, result);
    }
  } finally {
    isSending = false;
  }
}

/** Sends a revision now, or keeps it until the server is there. */
export async function sendOrKeep(
  patternId: string,
  revision: { readonly text: string; readonly parent: string | null; readonly note: string },
  savedAt: string,
): Promise<SendResult> {
  const waiting = await unsentRevisions(patternId);
  const result: SendResult =
    waiting.length > 0 ? { kind: 'unreached' } : await sendRevision(patternId, revision);
  tellKept({ isReached: result.kind !== 'unreached' });
  if (result.kind === 'unreached') await keepUnsent({ ...revision, patternId, savedAt });
  return result;
}

/** Begins to send what waits: at once, when the network comes back, and every quarter of a minute while something waits. */
export function startSending(): () => void {
  const go = () => {
    void sendUnsent();
  };
  const look = async () => {
    const waiting = await unsentRevisions();
    if (waiting.length > 0) go();
    else if ((await askPatterns()) === undefined) tellKept({ isReached: false });
    else tellKept({ isReached: true });
  };
  const onOnline = () => {
    void look();
  };
  const onOffline = () => tellKept({ isReached: false });
  window.addEventListener('online', onOnline);
  window.addEventListener('offline', onOffline);
  const timer = window.setInterval(onOnline, RETRY_MS);
  onOnline();
  return () => {
    window.removeEventListener('online', onOnline);
    window.removeEventListener('offline', onOffline);
    window.clearInterval(timer);
  };
}
