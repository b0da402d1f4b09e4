import { type FormEvent, useEffect, useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { keyState } from '../../course/keys.ts';
import type { AgeBand } from '../../route/route-types.ts';
import { shopStream } from '../class/acts.ts';
import { day, localDate } from '../class/clock-words.ts';
import { NoCourse } from '../class/no-course.tsx';
import { type CourseNow, useCourse } from '../class/use-course.ts';
import { useJoinCode } from '../class/use-join-code.ts';
import { Says } from '../parts/says.tsx';
import type { KnownPerson } from '../record/device-log.ts';
import { useGuardedAt } from '../record/guard.ts';
import { enter, reloadPeople } from '../record/record.ts';
import { askServer } from '../record/record-server.ts';
import { AgeTable } from './age-table.tsx';
import { KeyRule } from './key-rule.tsx';
import { BANDS, isKeyed } from './people-words.ts';
import './people.css';

const CONSENTS = ['yes', 'no', 'not asked'] as const;

/** The teacher's page of people: age band, consent, keys, contacts; nothing else about them. */
export function PeoplePage() {
  const course = useCourse();
  if (course.record.state === 'loading') return <main id="main" className="people" data-state="loading" />;
  if (!course.state) return <NoCourse course={course} />;
  if (course.record.me.role !== 'teacher')
    return (
      <main id="main" className="people" data-state="ready">
        <p className="says">This page is the teacher’s.</p>
      </main>
    );
  return <People course={course} state={course.state} />;
}

interface Contacts {
  readonly contacts: Readonly<Record<string, string>>;
  readonly health_notes: Readonly<Record<string, string>>;
}

function People({ course, state }: { readonly course: CourseNow; readonly state: ClassState }) {
  const [contacts, setContacts] = useState<Contacts>({ contacts: {}, health_notes: {} });
  const [code, newCode] = useJoinCode(course.courseId);
  useEffect(() => {
    void askServer<Contacts>('GET', '/api/contacts').then((a) => a.kind === 'answer' && setContacts(a.value));
  }, []);
  const own = course.record.people.filter((p) => p.course === course.courseId && !p.isForgotten);
  return (
    <main id="main" className="people" data-state="ready">
      <h1>People of {state.course.setUp?.name}</h1>
      <p className="code">
        Code of the course: <strong>{code || 'none yet'}</strong>{' '}
        <button type="button" className="btn sm" onClick={() => void newCode()}>
          {code ? 'Make a new code' : 'Make a code'}
        </button>
        <span className="q">
          {' '}
          Learners type it on their own phone; it lets them write their own build only.
        </span>
      </p>
      {own.map((p) => (
        <PersonRow
          key={p.id}
          person={p}
          state={state}
          isDemo={course.isDemo}
          nowMs={course.nowMs}
          contact={contacts.contacts[p.id] ?? ''}
          health={contacts.health_notes[p.id] ?? ''}
        />
      ))}
      <KeyRule state={state} isDemo={course.isDemo} />
      <AgeTable state={state} isDemo={course.isDemo} />
    </main>
  );
}

interface RowProps {
  readonly person: KnownPerson;
  readonly state: ClassState;
  readonly isDemo: boolean;
  readonly nowMs: number;
  readonly contact: string;
  readonly health: string;
}

function PersonRow({ person, state, isDemo, nowMs, contact, health }: RowProps) {
  const [says, setSays] = useState('');
  const keep = async (change: Partial<KnownPerson>) => {
    const p = { ...person, ...change };
    const today = localDate(Date.now());
    const dated = (c: KnownPerson['machines']) =>
      c?.answer === 'yes' ? { answer: 'yes', on: c.on ?? today } : { answer: c?.answer ?? 'not asked' };
    const body = {
      id: p.id,
      name: p.name,
      role: p.role === 'helper' ? 'helper' : 'learner',
      course: p.course,
      build: p.build,
      ageBand: p.ageBand ?? 'adult',
      machines: dated(p.machines),
      photos: dated(p.photos),
    };
    const answer = await askServer('POST', '/api/people', { people: [body] });
    setSays(
      answer.kind === 'refused'
        ? answer.message
        : answer.kind === 'unreached'
          ? 'Not kept: the server cannot be reached just now; try again.'
          : '',
    );
    await reloadPeople();
  };
  const act = async (what: 'forget' | 'send-away') => {
    const answer = await askServer('POST', `/api/people/${person.id}/${what}`, {});
    setSays(
      answer.kind === 'answer'
        ? what === 'forget'
          ? 'Forgotten.'
          : 'Sent away from every device.'
        : answer.kind === 'refused'
          ? answer.message
          : 'The server cannot be reached just now; try again.',
    );
    await reloadPeople();
  };
  return (
    <details className="person">
      <summary>
        <strong className="nm">{person.name}</strong>
        <span className="q">
          {person.role}, {BANDS.find(([b]) => b === person.ageBand)?.[1] ?? 'adult'}; machines:{' '}
          {person.machines?.answer ?? 'not asked'}; photos: {person.photos?.answer ?? 'not asked'}
        </span>
      </summary>
      <div className="person-fields">
        <label>
          Age band
          <select
            className="pick"
            value={person.ageBand ?? 'adult'}
            onChange={(e) => void keep({ ageBand: e.target.value as AgeBand })}
          >
            {BANDS.map(([value, words]) => (
              <option key={value} value={value}>
                {words}
              </option>
            ))}
          </select>
        </label>
        <ConsentPick
          label="Consent for machines"
          value={person.machines?.answer}
          onPick={(answer) => void keep({ machines: { answer } })}
        />
        <ConsentPick
          label="Consent for photos"
          value={person.photos?.answer}
          onPick={(answer) => void keep({ photos: { answer } })}
        />
        <TextKept label="Whom to call" path={`/api/people/${person.id}/contact`} start={contact} />
        <TextKept
          label="Health note, for your eyes only"
          path={`/api/people/${person.id}/health-note`}
          start={health}
          hint="In no paper, no export and no backup; gone for good when the instrument is handed over or the person is forgotten."
        />
      </div>
      {person.role === 'learner' && <Keys state={state} person={person.id} isDemo={isDemo} nowMs={nowMs} />}
      <div className="acts">
        <button type="button" className="btn sm" onClick={() => void act('send-away')}>
          Send away from devices
        </button>
        <ForgetButton name={person.name} onForget={() => void act('forget')} />
      </div>
      <Says words={says} />
    </details>
  );
}

function ForgetButton({ name, onForget }: { readonly name: string; readonly onForget: () => void }) {
  const [isSure, setSure] = useState(false);
  return isSure ? (
    <>
      <span>
        Name, consent, contacts, notes and photos of {name} go for good; steps and readings stay without a
        name.
      </span>
      <button type="button" className="btn sm" onClick={onForget}>
        Forget {name}
      </button>
      <button type="button" className="btn sm" onClick={() => setSure(false)}>
        Keep {name}
      </button>
    </>
  ) : (
    <button type="button" className="btn sm" onClick={() => setSure(true)}>
      Forget this person
    </button>
  );
}

function ConsentPick(props: {
  readonly label: string;
  readonly value: KnownPerson['machines'] extends infer C
    ? C extends { answer: infer A }
      ? A | undefined
      : undefined
    : undefined;
  readonly onPick: (answer: (typeof CONSENTS)[number]) => void;
}) {
  return (
    <label>
      {props.label}
      <select
        className="pick"
        value={props.value ?? 'not asked'}
        onChange={(e) => props.onPick(e.target.value as (typeof CONSENTS)[number])}
      >
        {CONSENTS.map((c) => (
          <option key={c} value={c}>
            {c}
          </option>
        ))}
      </select>
    </label>
  );
}

function TextKept({
  label,
  path,
  start,
  hint,
}: {
  readonly label: string;
  readonly path: string;
  readonly start: string;
  readonly hint?: string;
}) {
  const [text, setText] = useState(start);
  const [says, setSays] = useState('');
  useEffect(() => setText(start), [start]);
  const keep = async (event: FormEvent) => {
    event.preventDefault();
    const answer = await askServer('PUT', path, { text });
    setSays(
      answer.kind === 'answer'
        ? 'Kept.'
        : answer.kind === 'refused'
          ? answer.message
          : 'Not kept: the server cannot be reached just now.',
    );
  };
  return (
    <form className="text-kept" onSubmit={keep}>
      <label>
        {label}
        <input className="fld" value={text} onChange={(e) => setText(e.target.value)} />
        {hint && <span className="q">{hint}</span>}
      </label>
      <button type="submit" className="btn sm">
        Keep
      </button>
      {says !== '' && <span role="status">{says}</span>}
    </form>
  );
}

/** Keys of one person: give after a watched cut, take back at once. */
function Keys({
  state,
  person,
  isDemo,
  nowMs,
}: {
  readonly state: ClassState;
  readonly person: string;
  readonly isDemo: boolean;
  readonly nowMs: number;
}) {
  const stream = shopStream(isDemo);
  const isShut = useGuardedAt() !== undefined;
  return (
    <ul className="keys-list">
      {state.route.keys
        .filter((k) => isKeyed(k.id))
        .map((k) => {
          const has = keyState(state, person, k.id, nowMs);
          return (
            <li key={k.id}>
              <span>
                <strong>{k.text}</strong>{' '}
                <span className="q">
                  {has.state === 'held'
                    ? `held, to ${day(has.untilMs)} ${new Date(has.untilMs).getFullYear()}`
                    : has.state === 'lapsed'
                      ? `lapsed: ${has.reason}`
                      : 'not given'}
                </span>
              </span>
              {has.state === 'held' ? (
                <button
                  type="button"
                  className={isShut ? 'btn sm wait' : 'btn sm'}
                  disabled={isShut}
                  onClick={() => void enter([{ stream, kind: 'key-taken', body: { person, key: k.id } }])}
                >
                  Take back
                </button>
              ) : (
                <button
                  type="button"
                  className={isShut ? 'btn sm wait' : 'btn sm'}
                  disabled={isShut}
                  onClick={() => void enter([{ stream, kind: 'key-given', body: { person, key: k.id } }])}
                >
                  Give
                </button>
              )}
            </li>
          );
        })}
    </ul>
  );
}
