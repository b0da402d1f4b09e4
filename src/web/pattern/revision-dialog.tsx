import { type FormEvent, useState } from 'react';
import type { SendResult } from '../keeping/server.ts';
import { Dialog } from '../parts/dialog.tsx';

/** Asks for the note of a new revision and says what became of it. */
export function RevisionDialog(props: {
  readonly number: number;
  readonly summary: string;
  readonly brokenCount: number;
  /** Makes the revision; `onTop` puts it on the newest one after a question. */
  readonly onMake: (note: string, onTop: boolean) => Promise<SendResult>;
  readonly onClose: () => void;
}) {
  const [note, setNote] = useState('');
  const [isBusy, setBusy] = useState(false);
  const [problem, setProblem] = useState<SendResult>();
  const isTwo = problem?.kind === 'two-revisions';
  const make = async (event: FormEvent) => {
    event.preventDefault();
    setBusy(true);
    const result = await props.onMake(note.trim(), isTwo);
    setBusy(false);
    if (result.kind === 'saved' || result.kind === 'unreached') props.onClose();
    else setProblem(result);
  };
  return (
    <Dialog title={`Make revision ${props.number}`} onClose={props.onClose}>
      <form onSubmit={make}>
        <p>{props.summary}</p>
        {props.brokenCount > 0 && (
          <p className="says bad">
            {props.brokenCount === 1 ? 'One rule is broken' : `${props.brokenCount} rules are broken`}. The
            revision can be made all the same; its cards will say so.
          </p>
        )}
        <label className="notelabel">
          What changed and why, for those who read it in a year
          <textarea className="fld" rows={3} value={note} onChange={(event) => setNote(event.target.value)} />
        </label>
        {problem?.kind === 'refused' && (
          <p className="says bad" role="alert">
            {problem.message}
          </p>
        )}
        {isTwo && (
          <p className="says bad" role="alert">
            {problem.message} Nothing is lost: put yours on top of the other one, or go back and look at it
            first.
          </p>
        )}
        <div className="acts">
          <button type="submit" className="btn go" disabled={isBusy}>
            {isTwo ? 'Put mine on top' : `Make revision ${props.number}`}
          </button>
          <button type="button" className="btn" onClick={props.onClose}>
            Back to the draft
          </button>
        </div>
      </form>
    </Dialog>
  );
}
