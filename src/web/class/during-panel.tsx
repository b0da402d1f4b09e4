import { useState } from 'react';
import { Link } from 'wouter';
import { type ClassState, planOf } from '../../course/class-state.ts';
import { closingListFault } from '../../course/closing-list.ts';
import type { Release } from '../../course/occupancy.ts';
import type { During } from '../../course/tonight.ts';
import { capital } from '../../quantity/words.ts';
import { GateMark } from '../parts/gate.tsx';
import { enter } from '../record/record.ts';
import { ActList, ActRow } from './act-row.tsx';
import { doneStep, giveHelp, noteIncident, release, shopStream } from './acts.ts';
import { buildName, operationName, placeName } from './class-names.ts';
import { inWords, sinceWords } from './clock-words.ts';
import { NextList } from './next-list.tsx';
import { SignButton } from './sign-button.tsx';

interface DuringProps {
  readonly state: ClassState;
  readonly nowMs: number;
  readonly isDemo: boolean;
  readonly view: During;
  readonly release: readonly Release[];
}

/** What needs the teacher while the session is on, the most pressing first. */
export function DuringPanel({ state, nowMs, isDemo, view, release: releases }: DuringProps) {
  const signs = view.toSign.filter((s) => s.due === 'now');
  const ready = releases.filter((r) => r.state !== 'broken');
  const first = [
    ...view.help.map((h) => (
      <ActRow
        key={`help${h.build}`}
        isFirst
        head={`${buildName(state, h.build)} asks for you`}
        note={`${sinceWords(h.sinceMs, nowMs)}${h.words ? `: ${h.words}` : ''}`}
        acts={
          <button type="button" className="btn sm" onClick={() => void giveHelp(h.build)}>
            Seen to
          </button>
        }
      />
    )),
    ...signs.map((s) => (
      <ActRow
        key={`sign${s.build}${s.hold.op}`}
        head={`Sign ${buildName(state, s.build)}: ${operationName(state, s.hold.op)}`}
        note={`${capital(s.hold.sign)}.`}
        acts={<SignButton state={state} due={s} />}
      />
    )),
  ];
  return (
    <>
      <ActList title="Stop the line">
        {view.jigs.map((n) => (
          <ActRow
            key={`${n.jig}${n.reading}`}
            isFirst
            head={capital(placeName(state, n.jig))}
            note={n.text}
            acts={
              <button
                type="button"
                className="btn sm"
                onClick={() =>
                  void enter([{ stream: shopStream(isDemo), kind: 'jig-proved', body: { jig: n.jig } }])
                }
              >
                Proved again
              </button>
            }
          />
        ))}
      </ActList>
      <ActList title="Readings outside their limits">
        {view.outside.map((o) => (
          <ActRow
            key={`${o.build}${o.reading}`}
            mark={<GateMark state={o.state} />}
            head={buildName(state, o.build)}
            note={o.words}
            acts={
              <Link className="btn sm" href={`/bench/${o.build}`}>
                Look
              </Link>
            }
          />
        ))}
      </ActList>
      <ActList title="First">{first}</ActList>
      <ActList title="Take out of clamps">
        {ready.map((r) => (
          <ActRow
            key={`${r.build}${r.op}${r.what}`}
            head={`${buildName(state, r.build)}: ${placeName(state, r.what)}`}
            note={operationName(state, r.op)}
            acts={
              <button type="button" className="btn sm" onClick={() => void release(r)}>
                Release
              </button>
            }
          />
        ))}
      </ActList>
      <DoneForSeveral state={state} view={view} />
      <NextList state={state} assigned={view.assigned} nextBy={view.nextBy} />
      <ActList title="Stations">
        {view.stations.map((s) => (
          <ActRow
            key={s.station}
            head={capital(placeName(state, s.station))}
            note={[
              s.working.length > 0 ? `at work: ${s.working.map((b) => buildName(state, b)).join(', ')}` : '',
              s.resting.length > 0
                ? `resting: ${s.resting.map((r) => buildName(state, r.build)).join(', ')}`
                : '',
              s.queue.length > 0 ? `next: ${s.queue.map((b) => buildName(state, b)).join(', ')}` : '',
            ]
              .filter((w) => w !== '')
              .join('; ')}
            acts={
              <span className="q">
                {s.freeMs !== undefined
                  ? inWords(s.freeMs, nowMs)
                  : `${s.working.length + s.resting.length} of ${s.capacity}`}{' '}
                <Link className="link" href={`/station/${s.station}`}>
                  Open
                </Link>
              </span>
            }
          />
        ))}
      </ActList>
      <ActList title="Waiting">
        {view.idle.map((i) => (
          <ActRow
            key={i.build}
            head={buildName(state, i.build)}
            note={`${sinceWords(i.sinceMs, nowMs)}. ${i.tenMinutes[0] ? `Could use ten minutes: ${i.tenMinutes[0].sentence}` : (i.offers[0]?.sentence ?? 'Nothing can be offered just now.')}`}
          />
        ))}
      </ActList>
      <IncidentForm isDemo={isDemo} />
    </>
  );
}

/** One gesture marks a step done for several. */
function DoneForSeveral({ state, view }: { readonly state: ClassState; readonly view: During }) {
  const groups = new Map<string, { op: string; part: string; builds: string[] }>();
  for (const a of view.assigned) {
    if (!a.first) continue;
    const key = `${a.first.op} ${a.first.part}`;
    const group = groups.get(key) ?? { op: a.first.op, part: a.first.part, builds: [] };
    group.builds.push(a.build);
    groups.set(key, group);
  }
  return (
    <ActList title="Done tonight">
      {[...groups.values()].map((g) => (
        <DoneGroup key={`${g.op}${g.part}`} state={state} {...g} />
      ))}
    </ActList>
  );
}

/** What a part is called where an operation has several; empty where it has one. */
function partNameOf(state: ClassState, build: string, op: string, part: string): string {
  const facts = state.builds.get(build);
  const parts = (facts && planOf(state, facts).byId.get(op)?.parts) ?? [];
  return parts.length > 1 ? (parts.find((p) => p.id === part)?.what ?? '') : '';
}

function DoneGroup({
  state,
  op,
  part,
  builds,
}: {
  readonly state: ClassState;
  readonly op: string;
  readonly part: string;
  readonly builds: readonly string[];
}) {
  const [out, setOut] = useState<ReadonlySet<string>>(new Set());
  const partWords = partNameOf(state, builds[0] ?? '', op, part);
  const held = builds.filter((b) => {
    const facts = state.builds.get(b);
    return facts && closingListFault(state.route, facts, [op]) !== undefined;
  });
  const chosen = builds.filter((b) => !out.has(b) && !held.includes(b));
  const toggle = (build: string) => {
    const next = new Set(out);
    if (!next.delete(build)) next.add(build);
    setOut(next);
  };
  return (
    <ActRow
      head={partWords === '' ? operationName(state, op) : `${operationName(state, op)}: ${partWords}`}
      note={
        <span className="picks">
          {builds.map((b) => (
            <button
              key={b}
              type="button"
              className="pick-name"
              aria-pressed={!out.has(b)}
              onClick={() => toggle(b)}
            >
              {buildName(state, b)}
            </button>
          ))}
          {held.length > 0 && (
            <span>Closing list first: {held.map((b) => buildName(state, b)).join(', ')}.</span>
          )}
        </span>
      }
      acts={
        <button
          type="button"
          className="btn sm"
          disabled={chosen.length === 0}
          onClick={() => void doneStep(state, chosen, op, part)}
        >
          Done for {chosen.length}
        </button>
      }
    />
  );
}

function IncidentForm({ isDemo }: { readonly isDemo: boolean }) {
  const [text, setText] = useState('');
  const note = (severity: 'near miss' | 'first aid') => {
    void noteIncident(isDemo, severity, text.trim() || 'noted at once, words to follow');
    setText('');
  };
  return (
    <section className="incident">
      <h2 className="hd">Incident</h2>
      <label>
        What happened. No names, no injuries, no treatment
        <input className="fld" value={text} onChange={(e) => setText(e.target.value)} />
      </label>
      <div className="acts">
        <button type="button" className="btn sm" onClick={() => note('near miss')}>
          Note a near miss
        </button>
        <button type="button" className="btn sm" onClick={() => note('first aid')}>
          Note first aid
        </button>
      </div>
    </section>
  );
}
