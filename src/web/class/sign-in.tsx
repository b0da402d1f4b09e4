import { type FormEvent, useState } from 'react';
import { Link } from 'wouter';
import { Says } from '../parts/says.tsx';
import { useGuardedAt } from '../record/guard.ts';
import { reloadPeople, stopListening, syncNow } from '../record/record.ts';
import { askServer } from '../record/record-server.ts';

interface Named {
  readonly id: string;
  readonly name: string;
  readonly role: string;
}

/** The door of a device: learners by the code of their course, the teacher by passphrase. */
export function SignIn() {
  const [code, setCode] = useState('');
  const [people, setPeople] = useState<readonly Named[]>([]);
  const [says, setSays] = useState('');
  const guardedAt = useGuardedAt();
  const isIn = async () => {
    stopListening();
    await syncNow();
    await reloadPeople();
  };
  const tell = (answer: { readonly kind: string; readonly message?: string }) =>
    setSays(
      answer.kind === 'unreached'
        ? 'The server cannot be reached just now; try again when the network is back.'
        : (answer.message ?? ''),
    );
  const findCourse = async (event: FormEvent) => {
    event.preventDefault();
    const answer = await askServer<{ people: readonly Named[] }>('POST', '/api/join', { code });
    if (answer.kind === 'answer') {
      setPeople(answer.value.people.filter((p) => p.role === 'learner'));
      setSays('');
    } else tell(answer);
  };
  const joinAs = async (person: string) => {
    const answer = await askServer('POST', '/api/join', { code, person });
    if (answer.kind === 'answer') await isIn();
    else tell(answer);
  };
  return (
    <main id="main" className="door" data-state="ready">
      <h1>Who is this device for?</h1>
      <form onSubmit={findCourse}>
        <h2 className="nm">A learner</h2>
        <label>
          Code of the course
          <input
            className="fld"
            value={code}
            onChange={(e) => setCode(e.target.value)}
            autoComplete="off"
            autoCapitalize="none"
            spellCheck={false}
            placeholder="abcd-efgh"
          />
        </label>
        <button className="btn" type="submit">
          Find the course
        </button>
      </form>
      {people.length > 0 && (
        <ul className="names">
          {people.map((p) => (
            <li key={p.id}>
              <button type="button" className="btn" onClick={() => void joinAs(p.id)}>
                I am {p.name}
              </button>
            </li>
          ))}
        </ul>
      )}
      {guardedAt === undefined ? (
        <PassphraseForm isIn={isIn} tell={tell} />
      ) : (
        <section className="elsewhere">
          <h2 className="nm">The teacher, a shared tablet</h2>
          <p className="q2">
            The passphrase is not taken over plain http, where others in the network could read it. Open{' '}
            <a href={guardedAt}>{guardedAt}</a>, or use the machine Bracewright runs on.
          </p>
          <Link className="btn" href="/tablets">
            How this device comes to trust it
          </Link>
        </section>
      )}
      <Says words={says} isFault />
    </main>
  );
}

/** The teacher comes in by passphrase, where it does not travel in plain. */
function PassphraseForm(props: {
  readonly isIn: () => Promise<void>;
  readonly tell: (answer: { readonly kind: string; readonly message?: string }) => void;
}) {
  const [passphrase, setPassphrase] = useState('');
  const signIn = async (event: FormEvent) => {
    event.preventDefault();
    const answer = await askServer('POST', '/api/sign-in', { passphrase });
    if (answer.kind === 'answer') await props.isIn();
    else props.tell(answer);
  };
  return (
    <form onSubmit={signIn}>
      <h2 className="nm">The teacher</h2>
      <label>
        Passphrase
        <input
          className="fld"
          type="password"
          value={passphrase}
          onChange={(e) => setPassphrase(e.target.value)}
          autoComplete="current-password"
        />
      </label>
      <button className="btn" type="submit">
        Open the book
      </button>
    </form>
  );
}
