import type { Revision } from '../keeping/server.ts';
import { Dialog } from '../parts/dialog.tsx';

const day = (iso: string): string => {
  const date = new Date(iso);
  return Number.isNaN(date.getTime())
    ? ''
    : date.toLocaleDateString('en', { day: 'numeric', month: 'short', year: 'numeric' });
};

/** All revisions, the newest first, with the one that is compared with and the one the draft stands on. */
export function HistoryDialog(props: {
  readonly revisions: readonly Revision[];
  readonly comparedIndex: number;
  readonly standsOnIndex: number;
  readonly isDraftEmpty: boolean;
  readonly onCompare: (index: number) => void;
  readonly onStandOn: (index: number) => void;
  readonly onClose: () => void;
}) {
  const { revisions } = props;
  const rows = revisions.map((revision, index) => ({ revision, index })).reverse();
  return (
    <Dialog title="History" onClose={props.onClose}>
      {rows.length === 0 && <p>No revision is made yet. The draft stands on the starting pattern.</p>}
      <ol className="history">
        {rows.map(({ revision, index }) => (
          <li key={`${revision.savedAt}-${revision.hash}`}>
            <p>
              <b className="nm">Revision {index + 1}</b>{' '}
              <span className="q">
                {day(revision.savedAt)}
                {revision.hash === '' ? ', kept here, not sent yet' : ''}
                {index === props.standsOnIndex ? ', the draft stands on it' : ''}
              </span>
            </p>
            <p>{revision.note === '' ? <span className="q">no note</span> : revision.note}</p>
            <p className="acts small">
              <button
                type="button"
                className="btn sm"
                aria-pressed={index === props.comparedIndex}
                onClick={() => props.onCompare(index)}
              >
                {index === props.comparedIndex ? 'Compared with' : `Compare with revision ${index + 1}`}
              </button>
              {index !== props.standsOnIndex && props.isDraftEmpty && (
                <button type="button" className="btn sm" onClick={() => props.onStandOn(index)}>
                  Begin a draft on it
                </button>
              )}
            </p>
          </li>
        ))}
      </ol>
      <div className="acts">
        <button type="button" className="btn" onClick={props.onClose}>
          Close the history
        </button>
      </div>
    </Dialog>
  );
}
