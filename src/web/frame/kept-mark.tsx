import { useKept } from '../keeping/kept.ts';

/** Top right: whether what was made here is kept, and sent. A closed circle: yes. A broken one: not sent yet. */
export function KeptMark() {
  const { isReached, unsentCount } = useKept();
  const isSent = isReached && unsentCount === 0;
  const words = isSent
    ? 'Kept and sent'
    : unsentCount > 0
      ? `Kept, ${unsentCount} to send`
      : 'Kept, not connected';
  return (
    <span className="kept" role="status" data-state={isSent ? 'sent' : 'unsent'}>
      <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
        <circle
          cx="8"
          cy="8"
          r="6.2"
          fill="none"
          stroke="currentColor"
          strokeWidth="1.5"
          strokeDasharray={isSent ? undefined : '3.2 2.4'}
        />
        <circle cx="8" cy="8" r="3" fill="currentColor" />
      </svg>
      <span className="words">{words}</span>
    </span>
  );
}
