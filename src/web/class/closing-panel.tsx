import { useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { closing } from '../../course/closing.ts';
import { capital } from '../../quantity/words.ts';
import { ActList, ActRow } from './act-row.tsx';
import { closeSession, release, stationCleaned } from './acts.ts';
import { buildName, operationName, placeName } from './class-names.ts';
import { when } from './clock-words.ts';

/** The last quarter of an hour: clamps overnight, cleaning, what to prepare, messages for those who were away. */
export function ClosingPanel(props: {
  readonly state: ClassState;
  readonly courseId: string;
  readonly nowMs: number;
  readonly isDemo: boolean;
  readonly isOpen: boolean;
}) {
  const { state, courseId, nowMs, isDemo, isOpen } = props;
  const view = closing(state, nowMs);
  const [notes, setNotes] = useState('');
  return (
    <>
      <ActList title="Could be released tonight">
        {view.releaseNow.map((r) => (
          <ActRow
            key={`${r.build}${r.op}${r.what}`}
            head={`${buildName(state, r.build)}: ${placeName(state, r.what)}`}
            acts={
              <button type="button" className="btn sm" onClick={() => void release(r)}>
                Release
              </button>
            }
          />
        ))}
      </ActList>
      <ActList title="In clamps overnight">
        {view.overnight.map((r) => (
          <ActRow
            key={`${r.build}${r.op}${r.what}`}
            head={`${buildName(state, r.build)}: ${placeName(state, r.what)}`}
            note={`${operationName(state, r.op)}, free from ${when(r.leastMs, nowMs)}.`}
          />
        ))}
      </ActList>
      <ActList title="Not cleaned">
        {view.notCleaned.map((id) => (
          <ActRow
            key={id}
            head={capital(placeName(state, id))}
            acts={
              <button type="button" className="btn sm" onClick={() => void stationCleaned(isDemo, id)}>
                Cleaned
              </button>
            }
          />
        ))}
      </ActList>
      <ActList title="Prepare before the next session">
        {view.prepare.map((p) => (
          <ActRow
            key={`${p.op}${p.part}`}
            head={capital(p.what)}
            note={`For ${p.builds.map((b) => buildName(state, b)).join(', ')}, about ${Math.round(p.runMin)} min, by ${p.by.join(' or ')}.`}
          />
        ))}
      </ActList>
      <ActList title="For those who were away">
        {view.messages.map((m) => (
          <Message key={m.person} text={m.text} head={buildName(state, m.build)} />
        ))}
      </ActList>
      {isOpen && view.session && (
        <section className="close">
          <label>
            For next time
            <textarea className="fld" rows={3} value={notes} onChange={(e) => setNotes(e.target.value)} />
          </label>
          <button
            type="button"
            className="btn go wide"
            onClick={() => view.session && void closeSession(courseId, view.session.session, notes)}
          >
            Close the session
          </button>
        </section>
      )}
    </>
  );
}

function Message({ head, text }: { readonly head: string; readonly text: string }) {
  const [says, setSays] = useState('');
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      setSays('Copied');
    } catch {
      setSays('Select the words and copy them by hand; this browser does not let the page do it.');
    }
  };
  return (
    <ActRow
      head={head}
      note={
        <>
          <span className="message">{text}</span> {says && <em>{says}</em>}
        </>
      }
      acts={
        <button type="button" className="btn sm" onClick={() => void copy()}>
          Copy
        </button>
      }
    />
  );
}
