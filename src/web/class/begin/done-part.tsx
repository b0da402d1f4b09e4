import type { Dispatch } from 'react';
import { afterTouch } from '../../../course/coarse-steps.ts';
import type { PlannedRoute } from '../../../route/planned-route.ts';
import { ownRoute } from '../../../route/route.ts';
import { type CoarseCell, CoarseTable } from '../coarse-table.tsx';
import type { BeginForm } from './begin-form.ts';

const EVERYBODY = ' everybody';

/** The wall: the furthest step done is touched, everything to its left counts as done. */
export function DonePart(props: {
  readonly form: BeginForm;
  readonly names: readonly string[];
  readonly plan: PlannedRoute;
  readonly change: Dispatch<Partial<BeginForm>>;
}) {
  const { form, names, plan, change } = props;
  const route = ownRoute();
  const { steps } = route.stageOf;
  const doneOf = (name: string): readonly string[] => form.done[name] ?? [];
  const ofAll = steps.map((s) => s.id).filter((id) => names.every((n) => doneOf(n).includes(id)));
  const cell = (row: string, step: string): CoarseCell => {
    const isMade = steps.find((s) => s.id === step)?.operations.some((op) => plan.byId.has(op));
    if (!isMade) return { look: 'left out', words: 'not made here' };
    const isDone = (row === EVERYBODY ? ofAll : doneOf(row)).includes(step);
    return isDone ? { look: 'done', words: 'done' } : { look: 'open', words: 'not done' };
  };
  const touch = (row: string, step: string) => {
    if (row !== EVERYBODY) {
      change({ done: { ...form.done, [row]: afterTouch(route, plan, doneOf(row), step) } });
      return;
    }
    const done = afterTouch(route, plan, ofAll, step);
    change({ done: { ...form.done, ...Object.fromEntries(names.map((n) => [n, done])) } });
  };
  return (
    <section className="begin-part">
      <h2 className="hd">
        What is done <span className="q">touch the furthest step; leave it empty to start from nothing</span>
      </h2>
      {names.length === 0 ? (
        <p className="q">The wall appears when there are names.</p>
      ) : (
        <CoarseTable
          label="Steps done, learners down"
          steps={steps}
          rows={[
            { id: EVERYBODY, name: 'Everybody', head: <em>Everybody</em> },
            ...names.map((name) => ({ id: name, name, head: name })),
          ]}
          cell={cell}
          onTouch={touch}
        />
      )}
    </section>
  );
}
