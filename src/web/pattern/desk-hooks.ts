import { useEffect, useRef } from 'react';
import { keepDraft } from '../keeping/device.ts';
import { type Draft, toKept } from './draft.ts';

/** Keeps the draft on this device a moment after each change. */
export function useKeeping(patternId: string, draft: Draft, isDragging: boolean): void {
  const first = useRef(draft);
  useEffect(() => {
    if (isDragging || draft === first.current) return;
    void keepDraft(patternId, toKept(draft));
  }, [patternId, draft, isDragging]);
}

/** Ctrl or Command with Z; with Shift, or Y, the step again. Fields keep their own undo. */
export function useUndoKeys(undo: () => void, redo: () => void): void {
  const latest = useRef({ undo, redo });
  latest.current = { undo, redo };
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (!event.ctrlKey && !event.metaKey) return;
      if (event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement) return;
      const key = event.key.toLowerCase();
      if (key !== 'z' && key !== 'y') return;
      event.preventDefault();
      if (key === 'y' || event.shiftKey) latest.current.redo();
      else latest.current.undo();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
}
