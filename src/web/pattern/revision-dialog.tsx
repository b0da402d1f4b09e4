import { type FormEvent, useState } from 'react';
import type { SendResult } from '../keeping/server.ts';
import { Dialog } from '../parts/dialog.tsx';
import { Says } from '../parts/says.tsx';

/** Asks for the note of a new revision and says what became of it. */
export function RevisionDialog(props: {
  readonly number: number;
  readonly summary: string;
  readonly brokenCount: number;
  readonly onMake: (note: string) => Promise<SendResult>;
  readonly onClose: () => void;
}) {
  const [note, setNote] = useState('');
  const [isBusy, setBusy] = useState(false);
  const [problem, setProblem] = useState<SendResult>();
  const make = async (event: FormEvent) => {
    event.preventDefault();
    setBusy(true);
    const result = await props.onMake(note.trim());
    setBusy(false);
    if (result.kind === 'refused') setProblem(result);
    else props.onClose();
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
          <Says words={`${problem.message} The draft is kept on this device.`} isFault />
        )}
        <div className="acts">
          <button type="submit" className="btn go" disabled={isBusy}>
            Make revision {props.number}
          </button>
          <button type="button" className="btn" onClick={props.onClose}>
            Back to the draft
          </button>
        </div>
      </form>
    </Dialog>
  );
}

/** Another revision was made from the same one: both are kept, the person says which to go on with. */
export function TwoRevisionsDialog(props: {
  readonly message: string;
  readonly mine: string;
  readonly other: string;
  readonly onChoose: (hash: string) => void;
}) {
  return (
    <Dialog title="Two revisions from one" onClose={() => props.onChoose(props.mine)}>
      <p role="alert">{props.message}</p>
      <div className="acts">
        <button type="button" className="btn go" onClick={() => props.onChoose(props.mine)}>
          Go on with mine
        </button>
        <button type="button" className="btn" onClick={() => props.onChoose(props.other)}>
          Go on with the other one
        </button>
      </div>
    </Dialog>
  );
}
