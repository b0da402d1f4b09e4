import { useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { InputError } from '../../quantity/input-error.ts';
import { capital } from '../../quantity/words.ts';
import { editFault, editRoute } from '../../route/route-edit.ts';
import type { Operation } from '../../route/route-types.ts';
import { placeName } from '../class/class-names.ts';
import { NoCourse } from '../class/no-course.tsx';
import { useCourse } from '../class/use-course.ts';
import { enter } from '../record/record.ts';
import { AddOperation } from './add-operation.tsx';
import { OperationEdit } from './operation-edit.tsx';
import './route.css';
import type { TryEdit } from './try-edit.ts';

/** The route of the course: read it as a learner would, change it for this shop. */
export function RoutePage() {
  const course = useCourse();
  if (course.record.state === 'loading') return <main id="main" className="route" data-state="loading" />;
  if (!course.state) return <NoCourse course={course} />;
  return (
    <RouteOfCourse
      state={course.state}
      courseId={course.courseId}
      canEdit={course.record.me.role === 'teacher'}
    />
  );
}

function RouteOfCourse({
  state,
  courseId,
  canEdit,
}: {
  readonly state: ClassState;
  readonly courseId: string;
  readonly canEdit: boolean;
}) {
  const [open, setOpen] = useState<string>();
  const [wanted, setWanted] = useState('');
  const tryEdit: TryEdit = (edit) => {
    try {
      const fault = editFault(state.route, edit);
      if (fault) return fault;
      editRoute(state.route, [edit]);
    } catch (error) {
      if (error instanceof InputError) return error.message;
      throw error;
    }
    void enter([
      { stream: `course:${courseId}`, kind: 'route-edited', body: { edit: JSON.stringify(edit) } },
    ]);
    return undefined;
  };
  const builds = state.route.operations.filter((o) => o.kind === 'build');
  const isFound = (o: Operation): boolean =>
    wanted.trim() === '' || `${o.id} ${o.name}`.toLowerCase().includes(wanted.trim().toLowerCase());
  return (
    <main id="main" className="route" data-state="ready">
      <header className="route-head">
        <h1>The route</h1>
        <p className="q">
          {builds.length} operations in {state.route.stageOf.steps.length} steps. What you change here holds
          for {state.course.setUp?.name} only.
        </p>
        <label>
          Find a step
          <input className="fld" value={wanted} onChange={(e) => setWanted(e.target.value)} />
        </label>
      </header>
      {state.route.stageOf.stages.map((stage) => {
        const ops = builds.filter((o) => o.stage === stage.id && isFound(o));
        if (ops.length === 0) return null;
        return (
          <section key={stage.id}>
            <h2 className="hd">{stage.name}</h2>
            <ul className="ops">
              {ops.map((o) => (
                <li key={o.id} className={state.off.includes(o.id) ? 'off' : ''}>
                  <button
                    type="button"
                    className="op-head"
                    aria-expanded={open === o.id}
                    onClick={() => setOpen(open === o.id ? undefined : o.id)}
                  >
                    <span className="op-id">{o.id}</span>
                    <span className="op-name">
                      {o.name}
                      {state.off.includes(o.id) && <em> switched off</em>}
                    </span>
                    <span className="q">
                      {minutesOf(o)} min, {capital(placeName(state, o.parts[0]?.at[0] ?? 'bench'))}
                    </span>
                  </button>
                  {open === o.id && (
                    <OperationEdit
                      state={state}
                      operation={o}
                      canEdit={canEdit}
                      isOff={state.off.includes(o.id)}
                      tryEdit={tryEdit}
                    />
                  )}
                </li>
              ))}
            </ul>
          </section>
        );
      })}
      {canEdit && <AddOperation state={state} tryEdit={tryEdit} />}
    </main>
  );
}

/** Likely minutes of an operation, all parts. */
const minutesOf = (o: Operation): number => o.parts.reduce((sum, p) => sum + p.minutes.likely, 0);
