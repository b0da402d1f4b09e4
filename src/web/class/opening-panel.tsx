import { type FormEvent, useState } from 'react';
import { Link } from 'wouter';
import { type ClassState, labelOf } from '../../course/class-state.ts';
import type { Opening } from '../../course/tonight.ts';
import { parseQuantity } from '../../quantity/parse-quantity.ts';
import { capital } from '../../quantity/words.ts';
import { GateMark } from '../parts/gate.tsx';
import { Says } from '../parts/says.tsx';
import { ActList, ActRow } from './act-row.tsx';
import { checkMachine, openSession, readClimate, release, setHere } from './acts.ts';
import { buildName, operationName, placeName } from './class-names.ts';
import { sinceWords, when } from './clock-words.ts';
import { NextList } from './next-list.tsx';
import { SignButton } from './sign-button.tsx';

interface OpeningProps {
  readonly state: ClassState;
  readonly courseId: string;
  readonly nowMs: number;
  readonly isDemo: boolean;
  readonly view: Opening;
  readonly isOpen: boolean;
  readonly goOn: () => void;
}

/** What the teacher does before the first cut. */
export function OpeningPanel(props: OpeningProps) {
  const { state, courseId, nowMs, isDemo, view, isOpen, goOn } = props;
  const { session } = view;
  return (
    <>
      {session && !isOpen && (
        <button
          type="button"
          className="btn go wide"
          onClick={() => {
            void openSession(courseId, session.session);
            goOn();
          }}
        >
          Open the session
        </button>
      )}
      <RoomForm text={view.room.text} isDemo={isDemo} />
      {session && <HereList {...props} />}
      <NextList state={state} assigned={view.assigned} nextBy={view.nextBy} />
      <ActList title="Take out of clamps">
        {view.release.map((r) => (
          <ActRow
            key={`${r.build}${r.op}${r.what}`}
            head={`${buildName(state, r.build)}: ${placeName(state, r.what)}`}
            note={`${operationName(state, r.op)}, ${r.state === 'broken' ? `not before ${when(r.leastMs, nowMs)}` : `held for ${sinceWords(r.sinceMs, nowMs)}`}`}
            acts={
              r.state !== 'broken' && (
                <button type="button" className="btn sm" onClick={() => void release(r)}>
                  Release
                </button>
              )
            }
          />
        ))}
      </ActList>
      <ActList title="To sign">
        {view.toSign.map((s) => (
          <ActRow
            key={`${s.build}${s.hold.op}`}
            head={`${buildName(state, s.build)}: ${operationName(state, s.hold.op)}`}
            note={`${capital(s.hold.sign)}${s.due === 'ahead' ? '; comes up with the next step' : '; work waits for it'}.`}
            acts={<SignButton state={state} due={s} />}
          />
        ))}
      </ActList>
      <ActList title="To decide">
        {view.undecided.map((u) => (
          <ActRow
            key={`${u.build}${u.reading}`}
            mark={<GateMark state={u.state} />}
            head={`${buildName(state, u.build)}: ${operationName(state, u.op)}`}
            note={u.words}
            acts={
              <Link className="btn sm" href={`/bench/${u.build}`}>
                Decide
              </Link>
            }
          />
        ))}
      </ActList>
      <ActList title="Stop the line">
        {view.jigs.map((n) => (
          <ActRow key={`${n.jig}${n.reading}`} head={capital(placeName(state, n.jig))} note={n.text} />
        ))}
      </ActList>
      <ActList title="Settings, in the order of the evening">
        {view.settings.map((s) => (
          <ActRow
            key={`${s.station}${s.op}`}
            head={`${capital(placeName(state, s.station))}: ${operationName(state, s.op)}`}
            note={`${s.settings.map((x) => x.name).join(', ')}. For ${s.builds.map((b) => buildName(state, b)).join(', ')}.`}
            acts={
              <Link className="btn sm" href={`/station/${s.station}`}>
                Open
              </Link>
            }
          />
        ))}
      </ActList>
      <ActList title="Machines to check before the first cut">
        {view.machineChecks.map((id) => (
          <ActRow
            key={id}
            head={capital(placeName(state, id))}
            note="Guard, stop, extraction, blade or belt."
            acts={
              <>
                <button type="button" className="btn sm" onClick={() => void checkMachine(isDemo, id)}>
                  Checked
                </button>
                <Link className="btn sm" href={`/office/machines?station=${id}`}>
                  Not right
                </Link>
              </>
            }
          />
        ))}
      </ActList>
      <ActList title="Batches">
        {[...view.batches, ...view.catchUp].map((b) => (
          <ActRow
            key={`${b.op}${b.part}${b.isCatchUp}`}
            head={`${capital(b.name)}, ${b.builds.length} at the ${placeName(state, b.station)}`}
            note={`${b.isCatchUp ? 'For those who missed it. ' : ''}${b.builds.map((id) => buildName(state, id)).join(', ')}. About ${Math.round(b.runMin)} min, ${Math.round(b.teacherMin)} of yours.`}
          />
        ))}
      </ActList>
      <ActList title="To show">
        {view.demonstrate.map((d) => (
          <ActRow
            key={d.ops.join()}
            head={d.ops.map((op) => operationName(state, op)).join(', ')}
            note={`${d.durationMin} min, for ${d.builds.map((id) => buildName(state, id)).join(', ')}.`}
          />
        ))}
      </ActList>
      <ActList title="Keys">
        {view.keys.map((k) => (
          <ActRow
            key={`${k.person}${k.key}`}
            head={`${labelOf(state, k.person)}: ${k.key} key`}
            note={k.text}
          />
        ))}
      </ActList>
    </>
  );
}

function RoomForm({ text, isDemo }: { readonly text: string; readonly isDemo: boolean }) {
  const [humidity, setHumidity] = useState('');
  const [says, setSays] = useState('');
  const keep = (event: FormEvent) => {
    event.preventDefault();
    const read = parseQuantity(humidity.includes('%') ? humidity : `${humidity} %`, {
      kind: 'fraction',
      unit: 'fraction',
      low: 0.05,
      high: 0.99,
      what: 'Humidity',
    });
    if (read.kind === 'value') {
      void readClimate(isDemo, read.value);
      setHumidity('');
      setSays('');
    } else setSays(read.text);
  };
  return (
    <form className="room-form" onSubmit={keep}>
      <p>{text}</p>
      <label>
        Humidity, %
        <input
          className="fld"
          inputMode="decimal"
          value={humidity}
          onChange={(e) => setHumidity(e.target.value)}
        />
      </label>
      <button type="submit" className="btn sm">
        Read
      </button>
      <Says words={says} isFault />
    </form>
  );
}

function HereList({ state, courseId, view }: OpeningProps) {
  const { session } = view;
  if (!session) return null;
  const open = view.people.filter((p) => p.here === undefined).map((p) => p.person);
  return (
    <section className="here">
      <h2 className="hd">Who is here</h2>
      {open.length > 0 && (
        <button type="button" className="btn sm" onClick={() => void setHere(courseId, session, open, true)}>
          All are here
        </button>
      )}
      <ul>
        {view.people.map((p) => (
          <li key={p.person}>
            <button
              type="button"
              className="here-name"
              aria-pressed={p.here !== false}
              onClick={() => void setHere(courseId, session, [p.person], p.here === false)}
            >
              {buildName(state, p.build)}
              <span className="q">{p.here === undefined ? '' : p.here ? 'here' : 'away'}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
