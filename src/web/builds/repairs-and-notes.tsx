import { type FormEvent, useState } from 'react';
import { operationName } from '../class/class-names.ts';
import { when } from '../class/clock-words.ts';
import { Says } from '../parts/says.tsx';
import { noteOfBuild } from './build-acts.ts';
import type { BuildPartProps } from './build-part.ts';

/** Moments of a gluing stand among the notes; they are no remark. */
const MOMENTS: ReadonlySet<string> = new Set(['dry run begun', 'glue is on']);

/** What went wrong and was mended, what was made again, what was noted. */
export function RepairsAndNotes({ course, state, build, facts }: BuildPartProps) {
  const { me } = course.record;
  const { nowMs } = course;
  const notes = facts.notes.filter((n) => !MOMENTS.has(n.text));
  const mayWrite = me.role !== 'learner' || me.build === build;
  return (
    <section>
      <h2 className="hd">Repairs and notes</h2>
      {facts.repairs.length + facts.replaced.length + notes.length === 0 && (
        <p>None: nothing was repaired or noted.</p>
      )}
      <ul className="plain-list">
        {facts.repairs.map((r) => (
          <li key={r.event}>
            <strong>{r.decision}</strong>: {r.fault}, at {operationName(state, r.op)}
            {r.how ? `; ${r.how}` : ''}
            {r.decision === 'repair' &&
              (r.doneMs === undefined ? ' (still to repair)' : `, repaired ${when(r.doneMs, nowMs)}`)}{' '}
            <span className="q">{when(r.atMs, nowMs)}</span>
          </li>
        ))}
        {facts.replaced.map((r) => (
          <li key={r.event}>
            <strong>made again</strong> from {operationName(state, r.op)}: {r.reason}{' '}
            <span className="q">{when(r.atMs, nowMs)}</span>
          </li>
        ))}
        {notes.map((n) => (
          <li key={n.event}>
            {n.op ? `${operationName(state, n.op)}: ` : ''}
            {n.text} <span className="q">{when(n.atMs, nowMs)}</span>
          </li>
        ))}
      </ul>
      {mayWrite && <AddNote build={build} />}
    </section>
  );
}

function AddNote({ build }: { readonly build: string }) {
  const [text, setText] = useState('');
  const [says, setSays] = useState('');
  const keep = async (event: FormEvent) => {
    event.preventDefault();
    if (text.trim() === '') return setSays('Write the note first.');
    await noteOfBuild(build, text.trim());
    setText('');
    setSays('Kept.');
  };
  return (
    <form className="add-note" onSubmit={keep}>
      <label>
        Note about this build
        <input className="fld" value={text} maxLength={500} onChange={(e) => setText(e.target.value)} />
      </label>
      <button type="submit" className="btn">
        Keep note
      </button>
      <Says words={says} />
    </form>
  );
}
