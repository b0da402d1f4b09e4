import { useEffect, useRef, useState } from 'react';
import { type ClassState, sessionsOf } from '../../course/class-state.ts';
import type { BoardSession, BoardStep } from '../../course/plan-board.ts';
import { courseNameBesideMark } from '../class/class-names.ts';
import { localDate } from '../class/clock-words.ts';
import { DemoMark } from '../class/demo-mark.tsx';
import { NoCourse } from '../class/no-course.tsx';
import { type CourseNow, useCourse } from '../class/use-course.ts';
import { Says } from '../parts/says.tsx';
import { Switch } from '../parts/switch.tsx';
import './forecast.css';
import { pinStep, publishPlan, unpinStep } from './forecast-acts.ts';
import type { ForecastNews, ForecastRequest, Planned, SeenPlan } from './forecast-messages.ts';
import { LearnedMinutes, MinutesTable } from './minutes-tables.tsx';
import { type Moved, MovePanel } from './move-panel.tsx';
import { type BoardView, PlanBoard } from './plan-board.tsx';
import { Prospects } from './prospects.tsx';
import { ReplanNews } from './replan-news.tsx';
import { type Planner, usePlanner } from './use-planner.ts';

const SECONDS = 6;
const COURSES = 200;
const VIEWS = [
  { value: 'stations', words: 'By station' },
  { value: 'learners', words: 'By learner' },
] as const;

/** What is planned, who will finish when, and what would help. For the teacher. */
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

function Forecast({ course, state }: { readonly course: CourseNow; readonly state: ClassState }) {
  const { courseId } = course;
  const planner = usePlanner();
  const looker = usePlanner();
  const [seen, setSeen] = useState<SeenPlan>();
  const [draft, setDraft] = useState<Planned>();
  const [forecast, setForecast] = useState<Extract<ForecastNews, { readonly kind: 'forecast' }>>();
  const [fault, setFault] = useState('');
  const [view, setView] = useState<BoardView>('stations');
  const [due, setDue] = useState<string>();
  const [outFor, setOutFor] = useState(2);
  const lastMs = sessionsOf(state).at(-1)?.endMs;
  const base = {
    state,
    nowMs: course.nowMs,
    outForSessions: outFor,
    ...(due ? { dueMs: new Date(`${due}T12:00`).getTime() } : {}),
  };
  const ask = (request: ForecastRequest) => {
    setFault('');
    planner.run(request, (news) => {
      if (news.kind === 'planned') setDraft(news);
      else if (news.kind === 'forecast') setForecast(news);
      else if (news.kind === 'refused') setFault(news.text);
    });
  };
  const followed =
    state.course.plan === undefined
      ? ''
      : [state.course.plan, ...state.course.pins.values()].map((x) => x.event).join();
  const latest = useRef(state);
  latest.current = state;
  // the published plan is looked at anew when it, or a choice of the teacher, has changed; not at every tick of the clock
  const { run } = looker;
  useEffect(() => {
    if (followed === '') return setSeen(undefined);
    run({ job: 'look', state: latest.current, nowMs: Date.now(), outForSessions: 2 }, (news) => {
      if (news.kind === 'seen') setSeen(news.plan);
      else if (news.kind === 'refused') setFault(news.text);
    });
  }, [followed, run]);
  const publish = () => {
    if (!draft) return;
    void publishPlan(courseId, draft.text, draft.plan.sessions, base.dueMs);
    setDraft(undefined);
  };
  const { progress } = planner;
  const plan = draft?.plan ?? seen;
  const pageState = progress ? 'working' : looker.progress ? 'looking' : forecast ? 'done' : 'ready';
  return (
    <main
      id="main"
      className="forecast"
      data-state={pageState}
      data-plan={draft ? 'draft' : plan ? 'published' : 'none'}
    >
      <header>
        <h1>
          Forecast of {courseNameBesideMark(state)} <DemoMark isDemo={course.isDemo} />
        </h1>
        <p className="q">
          From the record as it stands now: everything done is taken out, what rests goes on resting.
        </p>
        <div className="acts">
          <label>
            Finished by{' '}
            <input
              type="date"
              className="fld"
              value={due ?? (lastMs === undefined ? '' : localDate(lastMs))}
              onChange={(e) => setDue(e.target.value || undefined)}
            />
          </label>
          <OutFor state={state} outFor={outFor} setOutFor={setOutFor} />
        </div>
        {progress ? (
          <p>
            <progress max={1} value={progress.shareFrac} aria-label={progress.words} /> {progress.words}{' '}
            <button type="button" className="btn sm" onClick={planner.cancel}>
              Stop
            </button>
          </p>
        ) : (
          <p className="acts">
            <button
              type="button"
              className={draft ? 'btn' : 'btn go'}
              onClick={() => ask({ ...base, job: 'plan', seconds: SECONDS })}
            >
              {state.course.plan ? 'Plan anew from now' : 'Plan the rest of the course'}
            </button>
            <button
              type="button"
              className="btn"
              onClick={() => ask({ ...base, job: 'forecast', courses: COURSES })}
            >
              Play the course through
            </button>
          </p>
        )}
        <Says words={fault} isFault />
      </header>
      {draft && (
        <ReplanNews state={state} planned={draft} publish={publish} leave={() => setDraft(undefined)} />
      )}
      {plan && <PlanWords plan={plan} />}
      {plan && (
        <section>
          <h2 className="hd">
            Calendar <span className="q">{draft ? 'the new plan, not published' : 'the published plan'}</span>
          </h2>
          <Switch label="The plan as" options={VIEWS} value={view} onChange={setView} />
          <Calendar
            key={draft ? 'draft' : followed}
            courseId={courseId}
            state={state}
            plan={plan}
            view={view}
            base={base}
            isDraft={draft !== undefined}
            mover={looker}
          />
        </section>
      )}
      {!plan && !looker.progress && state.course.plan === undefined && (
        <p className="says">
          No plan is published yet. Plan the rest of the course, look at it, publish it: what next on the
          session page then follows it.
        </p>
      )}
      {forecast && <Prospects state={state} nowMs={course.nowMs} forecast={forecast} />}
      {plan && <MinutesTable asked={plan.asked} />}
      {plan && <LearnedMinutes state={state} learned={plan.learned} />}
    </main>
  );
}

/** How long what is out of order is taken to stay so; asked only when something is. */
function OutFor(props: {
  readonly state: ClassState;
  readonly outFor: number;
  readonly setOutFor: (sessions: number) => void;
}) {
  const { state, outFor, setOutFor } = props;
  const isOut =
    [...state.shop.stations.values()].some((s) => s.outOfOrder) ||
    [...state.shop.jigs.values()].some((j) => j.outOfOrder);
  if (!isOut) return null;
  return (
    <label>
      What is out of order comes back after{' '}
      <select className="fld" value={outFor} onChange={(e) => setOutFor(Number(e.target.value))}>
        {[1, 2, 3, 4, 6].map((n) => (
          <option key={n} value={n}>
            {n} {n === 1 ? 'session' : 'sessions'}
          </option>
        ))}
      </select>
    </label>
  );
}

function PlanWords({ plan }: { readonly plan: SeenPlan }) {
  const gap = plan.sessions - plan.boundSession;
  return (
    <section className="plan-words">
      <h2 className="hd">The plan</h2>
      <p>
        Over in session <strong>{plan.sessions}</strong> of {plan.given}
        {plan.sessions > plan.given && <strong>: {plan.sessions - plan.given} more than there are</strong>}.{' '}
        {plan.boundWords}{' '}
        {gap > 0
          ? `This plan ends ${gap} ${gap === 1 ? 'session' : 'sessions'} behind that bound.`
          : 'This plan ends in that session: none can end earlier.'}
        {plan.closed.length > 0 && ` Taken as out of order for now: ${plan.closed.join(', ')}.`}
      </p>
    </section>
  );
}

interface CalendarProps {
  readonly courseId: string;
  readonly state: ClassState;
  readonly plan: SeenPlan;
  readonly view: BoardView;
  readonly base: Pick<ForecastRequest, 'state' | 'nowMs' | 'outForSessions' | 'dueMs'>;
  readonly isDraft: boolean;
  /** Has read the class already. */
  readonly mover: Planner;
}

/** The board with the step that is picked, where it is to go, and what that breaks. */
function Calendar({ courseId, state, plan, view, base, isDraft, mover }: CalendarProps) {
  const { board } = plan;
  const [pickedId, setPicked] = useState<string>();
  const [target, setTarget] = useState<BoardSession>();
  const [moved, setMoved] = useState<Moved>();
  const [fault, setFault] = useState('');
  const [hasPast, showPast] = useState(false);
  const picked = board.steps.find((s) => s.id === pickedId);
  const firstOpen = board.sessions.find((s) => board.steps.some((x) => x.session === s.number && !x.isPast));
  const drop = () => {
    mover.cancel();
    setPicked(undefined);
    setTarget(undefined);
    setMoved(undefined);
  };
  const move = (step: BoardStep, session: BoardSession) => {
    setPicked(step.id);
    setTarget(session);
    setMoved(undefined);
    setFault('');
    const windowId = step.isPreparation ? (session.preparationId ?? session.windowId) : session.windowId;
    // the moment of the plan that is seen: the worker then need not read the class anew for each try
    mover.run({ ...base, nowMs: plan.nowMs, job: 'move', step: step.id, windowId }, (news) => {
      if (news.kind === 'moved') setMoved(news);
      else if (news.kind === 'refused') setFault(news.text);
    });
  };
  const keep = (m: Moved) => {
    const session = target && sessionsOf(state)[target.number - 1];
    if (!picked || !session) return;
    void pinStep(courseId, {
      op: picked.op,
      part: picked.part,
      builds: picked.builds,
      session: session.session,
      startMs: m.startMs,
      endMs: m.endMs,
      ...(m.station === undefined ? {} : { station: m.station }),
    });
    drop();
  };
  return (
    <>
      <button type="button" className="btn sm" aria-pressed={hasPast} onClick={() => showPast(!hasPast)}>
        {hasPast ? 'From now on' : 'Show what was'}
      </button>
      <PlanBoard
        state={state}
        board={board}
        view={view}
        fromSession={hasPast ? 1 : (firstOpen?.number ?? 1)}
        picked={picked}
        target={target}
        pick={(step) => {
          drop();
          setPicked(step.id);
        }}
        move={isDraft ? undefined : ({ step, session }) => move(step, session)}
        drop={drop}
      />
      <Says words={fault} isFault />
      {picked && (
        <MovePanel
          state={state}
          step={picked}
          sessions={board.sessions.filter((s) => s.number >= (firstOpen?.number ?? 1))}
          target={target}
          moved={moved}
          isLooking={mover.progress !== undefined}
          isMovable={!isDraft}
          move={(session) => move(picked, session)}
          keep={keep}
          takeBack={(event) => {
            void unpinStep(courseId, event);
            drop();
          }}
          close={drop}
        />
      )}
    </>
  );
}
