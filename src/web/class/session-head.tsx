import { Link, useLocation } from 'wouter';
import type { SessionFact } from '../../course/course-facts.ts';
import type { Opening } from '../../course/tonight.ts';
import { Switch } from '../parts/switch.tsx';
import { courseNameBesideMark } from './class-names.ts';
import { evening } from './clock-words.ts';
import { DemoMark } from './demo-mark.tsx';
import type { CourseNow } from './use-course.ts';

/** Part of the evening. */
export type Part = 'opening' | 'during' | 'closing';

const PARTS = [
  { value: 'opening', words: 'Opening' },
  { value: 'during', words: 'During' },
  { value: 'closing', words: 'Closing' },
] as const satisfies readonly { readonly value: Part; readonly words: string }[];

interface HeadProps {
  readonly course: CourseNow;
  readonly session: SessionFact | undefined;
  readonly view: Opening;
  readonly part: Part;
  readonly pick: (part: Part) => void;
  readonly isShared: boolean;
  readonly share: (isShared: boolean) => void;
}

/** Sessions up to this one, those that fell out left aside. */
function numberOf(course: CourseNow, session: SessionFact): { readonly is: number; readonly of: number } {
  const all = [...(course.state?.course.sessions.values() ?? [])].filter((s) => s.cancelled === undefined);
  return { is: all.filter((s) => s.startMs <= session.startMs).length, of: all.length };
}

/** Which evening it is, who is here, what the room says. */
export function SessionHead(props: HeadProps) {
  const { course, session, view, part, pick, isShared, share } = props;
  const isTeacher = course.record.me.role === 'teacher';
  const here = view.people.filter((p) => p.here !== false).length;
  const number = session ? numberOf(course, session) : undefined;
  const { humidityFrac, state: room } = view.room;
  const roomWords =
    room === 'met' ? 'right for gluing' : room === 'doubtful' ? 'you sign for gluing' : 'no gluing';
  return (
    <header className="session-head">
      <h1>
        {session
          ? `${evening(session.startMs)}${isShared ? '' : `, session ${number?.is}`}`
          : 'No session planned'}
      </h1>
      <p className="q">
        {!isShared && number && `of ${number.of}, `}
        {course.state && courseNameBesideMark(course.state)} <DemoMark isDemo={course.isDemo} />
      </p>
      <span className="sp" />
      {isTeacher && !isShared && course.courses.length > 1 && <CoursePick course={course} />}
      {!isShared && (
        <p>
          <strong>{here}</strong> here, <strong>{view.people.length - here}</strong> away
        </p>
      )}
      {!isShared && (
        <p className={`room is-${room}`}>
          {humidityFrac === undefined
            ? 'Room not read'
            : `${Math.round(humidityFrac * 100)} % humidity, ${roomWords}`}
        </p>
      )}
      {isTeacher && !isShared && (
        <Switch label="Part of the evening" options={PARTS} value={part} onChange={pick} />
      )}
      <Link className="btn sm" href="/scan">
        Find a part
      </Link>
      {isTeacher && (
        <button type="button" className="btn sm" onClick={() => share(!isShared)}>
          {isShared ? 'Teacher’s screen' : 'Shared screen'}
        </button>
      )}
    </header>
  );
}

function CoursePick({ course }: { readonly course: CourseNow }) {
  const [, goTo] = useLocation();
  return (
    <select
      className="pick"
      aria-label="Course"
      value={course.courseId}
      onChange={(e) => goTo(`/session?course=${e.target.value}`)}
    >
      {course.courses.map((c) => (
        <option key={c.id} value={c.id}>
          {c.name}
        </option>
      ))}
    </select>
  );
}
