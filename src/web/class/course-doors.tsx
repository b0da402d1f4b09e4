import { type FormEvent, useState } from 'react';
import { Link } from 'wouter';
import { Says } from '../parts/says.tsx';
import { useGuardedAt } from '../record/guard.ts';
import { reloadPeople, syncNow } from '../record/record.ts';
import { askServer } from '../record/record-server.ts';
import { useJoinCode } from './use-join-code.ts';

interface DoorsProps {
  readonly courseId: string;
  readonly isDemo: boolean;
  readonly hasPassphrase: boolean;
}

/** How devices come in: the code of the course, the teacher's passphrase; other courses; the end of the demo. */
export function CourseDoors({ courseId, isDemo, hasPassphrase }: DoorsProps) {
  const guardedAt = useGuardedAt();
  return (
    <section className="doors">
      <h2 className="hd">Code of the course</h2>
      <JoinCode courseId={courseId} />
      {!hasPassphrase && guardedAt === undefined && <PassphraseForm />}
      <div className="acts">
        <a className="btn sm" href={`/api/courses/${courseId}/sheet.pdf`} target="_blank" rel="noreferrer">
          Print the sheets of the session
        </a>
        <Link className="btn sm" href="/paper">
          Type a sheet back
        </Link>
        <Link className="btn sm" href="/begin">
          Begin another course
        </Link>
        <Link className="btn sm" href="/tablets">
          Put a tablet on https
        </Link>
        {isDemo && <RemoveDemo />}
      </div>
    </section>
  );
}

function JoinCode({ courseId }: { readonly courseId: string }) {
  const [code, make] = useJoinCode(courseId);
  return (
    <p className="join-code">
      {code ? <strong className="code">{code}</strong> : 'Learners join with a code on their own phones.'}{' '}
      <button type="button" className="btn sm" onClick={() => void make()}>
        {code ? 'Make a new code' : 'Make a code'}
      </button>
    </p>
  );
}

function PassphraseForm() {
  const [passphrase, setPassphrase] = useState('');
  const [says, setSays] = useState('');
  const keep = async (event: FormEvent) => {
    event.preventDefault();
    const answer = await askServer('POST', '/api/passphrase', { passphrase });
    if (answer.kind === 'answer') await syncNow();
    else setSays(answer.kind === 'refused' ? answer.message : 'The server cannot be reached just now.');
  };
  return (
    <form className="room-form" onSubmit={keep}>
      <p>Until a passphrase is set, whoever sits at this machine is the teacher.</p>
      <label>
        Passphrase of the teacher
        <input
          className="fld"
          type="password"
          autoComplete="new-password"
          value={passphrase}
          onChange={(e) => setPassphrase(e.target.value)}
        />
      </label>
      <button type="submit" className="btn sm">
        Set it
      </button>
      <Says words={says} isFault />
    </form>
  );
}

function RemoveDemo() {
  const [isSure, setSure] = useState(false);
  const remove = async () => {
    const answer = await askServer('POST', '/api/demo/remove', {});
    if (answer.kind !== 'answer') return;
    await syncNow();
    await reloadPeople();
  };
  return (
    <button type="button" className="btn sm" onClick={() => (isSure ? void remove() : setSure(true))}>
      {isSure ? 'Yes, take the invented class away' : 'Take the demo away'}
    </button>
  );
}
