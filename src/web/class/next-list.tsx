import type { ClassState } from '../../course/class-state.ts';
import type { NextBy } from '../../course/planned-steps.ts';
import type { Assigned } from '../../course/tonight.ts';
import { ActRow } from './act-row.tsx';
import { buildName, operationName, placeName } from './class-names.ts';

/** What each learner does next and why, and whether the plan or the plain rule says so. */
export function NextList(props: {
  readonly state: ClassState;
  readonly assigned: readonly Assigned[];
  readonly nextBy: NextBy;
}) {
  const { state, assigned, nextBy } = props;
  return (
    <section className="act-list next-list" data-by={nextBy.by}>
      <details>
        <summary>
          <h2 className="hd">
            What next <span className="q">by the {nextBy.by}</span>
          </h2>
        </summary>
        <p className="q">{nextBy.words}</p>
        <ul>
          {assigned.map((a) => (
            <ActRow
              key={a.build}
              head={`${buildName(state, a.build)}: ${a.first ? `${operationName(state, a.first.op)}, ${placeName(state, a.first.station)}` : 'nothing can be offered'}`}
              note={noteOf(state, a)}
            />
          ))}
        </ul>
      </details>
    </section>
  );
}

function noteOf(state: ClassState, { first, next }: Assigned): string {
  if (first) return first.reason ?? first.sentence;
  const held = next.withheld[0];
  return held
    ? `${operationName(state, held.op)}: ${held.reason}.`
    : 'Everything open rests or waits for others.';
}
