import { useState } from 'react';
import { buildReducer } from '../../course/build-facts.ts';
import { type ClassState, labelOf } from '../../course/class-state.ts';
import type { RecordEvent } from '../../course/event.ts';
import { type EventNames, eventWords } from '../../course/event-words.ts';
import { foldEvents } from '../../course/fold.ts';
import { inputSpec } from '../../pattern/pattern-file.ts';
import { readingOf } from '../../route/reading-of.ts';
import { operationName, placeName } from '../class/class-names.ts';
import { clock, day } from '../class/clock-words.ts';
import { withdraw } from '../record/record.ts';
import type { BuildPartProps } from './build-part.ts';
import { revisionName } from './revisions.ts';

const SHOWN = 12;

const namesIn = ({ state, course }: BuildPartProps): EventNames => ({
  operation: (op) => operationName(state, op),
  place: (id) => placeName(state, id),
  reading: (id) => readingOf(state.route, id)?.name ?? id,
  choice: (id) => inputSpec(id)?.label ?? id,
  revision: (id) => revisionName(course.record, state, id),
});

/** Everything that was entered for a build, the newest first. */
export function History(props: BuildPartProps) {
  const { course, state, build } = props;
  const [isAll, showAll] = useState(false);
  const { events, withdrawn } = foldEvents(buildReducer, course.record.streams.get(`build:${build}`) ?? []);
  const { me } = course.record;
  const names = namesIn(props);
  const newest = [...events].reverse();
  const shown = isAll ? newest : newest.slice(0, SHOWN);
  const isMine = (e: RecordEvent) => e.by === me.person && me.person !== '';
  return (
    <section>
      <h2 className="hd">
        History <span className="q">{events.length} entries</span>
      </h2>
      <ol className="history">
        {shown.map((e) => (
          <li key={e.id} className={withdrawn.has(e.id) ? 'gone' : ''}>
            <span className="n q">
              {day(e.time)} {clock(e.time)}
            </span>
            <span>
              {withdrawn.has(e.id) ? <del>{eventWords(e, names)}</del> : eventWords(e, names)}
              {withdrawn.has(e.id) && ' (taken back)'}
              <span className="q">, {byWords(state, e.by)}</span>
            </span>
            {isMine(e) &&
              !withdrawn.has(e.id) &&
              e.kind !== 'build-set-up' &&
              e.kind !== 'event-withdrawn' && <TakeBack event={e} words={eventWords(e, names)} />}
          </li>
        ))}
      </ol>
      {newest.length > SHOWN && (
        <button type="button" className="btn" aria-expanded={isAll} onClick={() => showAll(!isAll)}>
          {isAll ? 'Show the newest only' : `Show all ${newest.length}`}
        </button>
      )}
    </section>
  );
}

const byWords = (state: ClassState, by: string): string =>
  by === 'teacher' ? 'the teacher' : labelOf(state, by);

/** Taking back asks once more: what was entered stays in the record, marked as taken back. */
function TakeBack({ event, words }: { readonly event: RecordEvent; readonly words: string }) {
  const [isSure, setSure] = useState(false);
  if (!isSure)
    return (
      <button
        type="button"
        className="btn sm"
        aria-label={`Take back: ${words}`}
        onClick={() => setSure(true)}
      >
        Take back
      </button>
    );
  return (
    <span className="acts">
      <button type="button" className="btn sm" onClick={() => void withdraw(event.stream, event.id)}>
        Take it back
      </button>
      <button type="button" className="btn sm" onClick={() => setSure(false)}>
        Keep it
      </button>
    </span>
  );
}
