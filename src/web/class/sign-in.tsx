import { type FormEvent, useState } from 'react';
import { Says } from '../parts/says.tsx';
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
  const [passphrase, setPassphrase] = useState('');
  const [says, setSays] = useState('');
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
  const signIn = async (event: FormEvent) => {
    event.preventDefault();
    const answer = await askServer('POST', '/api/sign-in', { passphrase });
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
      <Says words={says} isFault />
    </main>
  );
}
