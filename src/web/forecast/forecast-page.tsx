import { useEffect, useRef, useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { courseFileText } from '../../course/course-export.ts';
import { localMinute } from '../class/clock-words.ts';
import { DemoMark } from '../class/demo-mark.tsx';
import { NoCourse } from '../class/no-course.tsx';
import { type CourseNow, useCourse } from '../class/use-course.ts';
import { Says } from '../parts/says.tsx';
import './forecast.css';
import type { ForecastNews, ForecastRequest } from './forecast-messages.ts';
import { Prospects } from './prospects.tsx';
import { SessionPlan } from './session-plan.tsx';

const SECONDS = 6;
const COURSES = 400;

/** A civil clock of this device's time zone. */
function civil(ms: number): { readonly date: string; readonly time: string } {
  const minute = localMinute(ms);
  return { date: minute.slice(0, 10), time: minute.slice(11) };
}

/** What is planned, who will finish when, and what would help. For the teacher; learners see their own only. */
export function ForecastPage() {
  const course = useCourse();
  if (course.record.state === 'loading') return <main id="main" className="forecast" data-state="loading" />;
  if (!course.state) return <NoCourse course={course} />;
  return course.record.me.role === 'teacher' ? (
    <Forecast course={course} state={course.state} />
  ) : (
    <main id="main" className="forecast" data-state="ready">
      <p className="says">This page is the teacher’s.</p>
    </main>
  );
}

interface Known {
  readonly plan?: Extract<ForecastNews, { kind: 'plan' }>;
  readonly forecast?: Extract<ForecastNews, { kind: 'forecast' }>;
  readonly progress?: Extract<ForecastNews, { kind: 'progress' }>;
  readonly refused?: string;
}

function Forecast({ course, state }: { readonly course: CourseNow; readonly state: ClassState }) {
  const [known, setKnown] = useState<Known>({});
  const worker = useRef<Worker>(undefined);
  const cancel = () => {
    worker.current?.terminate();
    worker.current = undefined;
    setKnown(({ progress: _gone, ...rest }) => rest);
  };
  const begin = () => {
    cancel();
    const next = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
    next.onmessage = (event: MessageEvent<ForecastNews>) => {
      const news = event.data;
      if (news.kind === 'progress') setKnown((k) => ({ ...k, progress: news }));
      else if (news.kind === 'plan') setKnown((k) => ({ ...k, plan: news }));
      else if (news.kind === 'forecast') {
        setKnown(({ progress: _done, ...k }) => ({ ...k, forecast: news }));
        next.terminate();
      } else setKnown({ refused: news.text });
    };
    worker.current = next;
    const text = courseFileText(state, {
      timeZone: Intl.DateTimeFormat().resolvedOptions().timeZone,
      civil,
      nowMs: Date.now(),
    });
    next.postMessage({ text, seconds: SECONDS, courses: COURSES, seed: 1 } satisfies ForecastRequest);
    setKnown({ progress: { kind: 'progress', words: 'Beginning', shareFrac: 0 } });
  };
  useEffect(() => () => worker.current?.terminate(), []);
  const { plan, forecast, progress, refused } = known;
  return (
    <main id="main" className="forecast" data-state={progress ? 'working' : forecast ? 'done' : 'ready'}>
      <header>
        <h1>Forecast of {state.course.setUp?.name}</h1>
        <DemoMark isDemo={course.isDemo} />
        <p className="q">
          From the record as it stands now: everything done is taken out, what rests goes on resting.
        </p>
        {progress ? (
          <p>
            <progress max={1} value={progress.shareFrac} aria-label={progress.words} /> {progress.words}{' '}
            <button type="button" className="btn sm" onClick={cancel}>
              Stop
            </button>
          </p>
        ) : (
          <button type="button" className="btn go" onClick={begin}>
            {plan ? 'Plan anew' : 'Plan the rest of the course'}
          </button>
        )}
        <Says words={refused ?? ''} isFault />
      </header>
      {plan && (
        <section>
          <h2 className="hd">The plan</h2>
          <p>
            Over in session <strong>{plan.sessions}</strong> of {plan.given}
            {plan.sessions > plan.given && (
              <strong>: {plan.sessions - plan.given} more than there are</strong>
            )}
            . {plan.boundWords}
          </p>
        </section>
      )}
      {forecast && <Prospects forecast={forecast} />}
      {plan && <MinutesTable asked={plan.asked} />}
      {plan && <SessionPlan rows={plan.rows} />}
    </main>
  );
}

function MinutesTable({ asked }: { readonly asked: Extract<ForecastNews, { kind: 'plan' }>['asked'] }) {
  return (
    <section>
      <h2 className="hd">Minutes asked and minutes there are</h2>
      <div className="table-scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">Who or what</th>
              <th scope="col">Asked</th>
              <th scope="col">There are</th>
              <th scope="col">Too much by</th>
            </tr>
          </thead>
          <tbody>
            {asked.slice(0, 14).map((r) => (
              <tr key={r.resourceId}>
                <th scope="row">{r.name}</th>
                <td>{Math.round(r.askedMin)}</td>
                <td>{Math.round(r.thereMin)}</td>
                <td>{r.overFullMin > 0 ? <strong>{Math.round(r.overFullMin)}</strong> : ''}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
