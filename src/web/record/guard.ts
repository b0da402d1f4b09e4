import { useEffect, useState, useSyncExternalStore } from 'react';
import { isRecordStarted, recordView, subscribeRecord } from './record.ts';
import { askMe } from './record-server.ts';

let asked: Promise<string | undefined> | undefined;

/**
 * Where signing, keys, limits and settings are taken, when they are not taken through the door this page came by;
 * undefined when they are.
 */
export function useGuardedAt(): string | undefined {
  const { me, state } = useSyncExternalStore(subscribeRecord, recordView);
  const [first, setFirst] = useState<string>();
  useEffect(() => {
    // pages that do not need the record ask once on their own
    if (isRecordStarted()) return;
    asked ??= askMe().then((a) => (a.kind === 'answer' ? (a.value.guarded_at ?? undefined) : undefined));
    void asked.then(setFirst);
  }, []);
  return state === 'ready' ? (me.guarded_at ?? undefined) : first;
}
