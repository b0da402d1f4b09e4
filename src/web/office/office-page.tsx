import { type ReactNode, useMemo } from 'react';
import { Link } from 'wouter';
import type { ClassState } from '../../course/class-state.ts';
import { type OfficePart, officeParts } from '../../course/office/office-parts.ts';
import type { OfficeInput } from '../../course/office/office-table.ts';
import { patternOfBuild } from '../class/build-context.ts';
import { courseNameBesideMark } from '../class/class-names.ts';
import { localMinute } from '../class/clock-words.ts';
import { DemoMark } from '../class/demo-mark.tsx';
import { NoCourse } from '../class/no-course.tsx';
import { type CourseNow, useCourse } from '../class/use-course.ts';
import { CalendarFeed } from './calendar-feed.tsx';
import { CheckForm, OutOfOrder } from './check-form.tsx';
import { IncidentForms } from './incident-forms.tsx';
import './office.css';
import { OfficeTableView } from './office-table-view.tsx';
import { PriceForms } from './price-forms.tsx';
import { ShopPanel } from './shop-panel.tsx';

const CALENDAR = 'calendar';

/** The teacher's office: what is written for the school and for the end of the term. */
export function OfficePage({ part }: { readonly part: string }) {
  const course = useCourse();
  if (course.record.state === 'loading') return <main id="main" className="office" data-state="loading" />;
  if (!course.state) return <NoCourse course={course} />;
  if (course.record.me.role !== 'teacher')
    return (
      <main id="main" className="office" data-state="ready">
        <h1>Office</h1>
        <p className="says">This page is the teacher’s.</p>
      </main>
    );
  return <Office course={course} state={course.state} part={part} />;
}

function useOfficeInput({ nowMs }: CourseNow, state: ClassState): OfficeInput {
  return useMemo(
    () => ({
      state,
      nowMs,
      civil: (ms) => ({ date: localMinute(ms).slice(0, 10), time: localMinute(ms).slice(11) }),
      patternOf: (facts) => patternOfBuild(state, facts),
    }),
    [state, nowMs],
  );
}

function Office(props: { readonly course: CourseNow; readonly state: ClassState; readonly part: string }) {
  const { course, state } = props;
  const input = useOfficeInput(course, state);
  const shown = officeParts.find((p) => p.id === props.part);
  const ways = [...officeParts.map(({ id, name }) => ({ id, name })), { id: CALENDAR, name: 'Calendar' }];
  const current = props.part === CALENDAR ? CALENDAR : (shown?.id ?? 'hours');
  return (
    <main id="main" className="office" data-state="ready">
      <h1>
        Office of {courseNameBesideMark(state)} <DemoMark isDemo={course.isDemo} />
      </h1>
      <nav className="office-ways" aria-label="Parts of the office">
        {ways.map((w) => (
          <Link key={w.id} href={`/office/${w.id}`} aria-current={w.id === current ? 'page' : undefined}>
            {w.name}
          </Link>
        ))}
        <a
          className="btn"
          href={`/api/courses/${course.courseId}/office.pdf?part=all`}
          target="_blank"
          rel="noreferrer"
        >
          Print all
        </a>
      </nav>
      {current === CALENDAR ? (
        <CalendarFeed key={course.courseId} course={course} />
      ) : (
        <PartView course={course} input={input} part={shown ?? (officeParts[0] as OfficePart)} />
      )}
    </main>
  );
}

function PartView(props: {
  readonly course: CourseNow;
  readonly input: OfficeInput;
  readonly part: OfficePart;
}) {
  const { course, input, part } = props;
  const tables = useMemo(() => part.tables.map((t) => t.make(input)), [part, input]);
  const csv = (t: { readonly id: string }) => `/api/courses/${course.courseId}/office.csv?table=${t.id}`;
  const forms: Readonly<Record<string, ReactNode>> = {
    'machine-days': (
      <>
        <CheckForm state={input.state} isDemo={course.isDemo} />
        <OutOfOrder state={input.state} isDemo={course.isDemo} />
      </>
    ),
    'shop-machines': <ShopPanel state={input.state} isDemo={course.isDemo} />,
    incidents: <IncidentForms state={input.state} isDemo={course.isDemo} />,
    materials: <PriceForms input={input} isDemo={course.isDemo} />,
  };
  return (
    <>
      {tables.map((table, i) => (
        <section key={table.id}>
          <h2 className="hd">{table.title}</h2>
          <p className="q2">{table.says}</p>
          <div className="acts">
            <a className="btn" href={csv(table)} download>
              Take as CSV
            </a>
            {i === 0 && (
              <a
                className="btn"
                href={`/api/courses/${course.courseId}/office.pdf?part=${part.id}`}
                target="_blank"
                rel="noreferrer"
              >
                Print {part.name.toLowerCase()}
              </a>
            )}
            {i === 0 &&
              (part.fileOnly ?? []).map((f) => (
                <a key={f.id} className="btn" href={csv(f)} download>
                  Line by line as CSV
                </a>
              ))}
            {table.id === 'consent' && (
              <Link className="btn" href="/people">
                To the people
              </Link>
            )}
          </div>
          {forms[table.id]}
          <OfficeTableView table={table} />
        </section>
      ))}
    </>
  );
}
