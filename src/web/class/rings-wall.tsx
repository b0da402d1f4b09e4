import { Link } from 'wouter';
import { type ClassState, labelOf } from '../../course/class-state.ts';
import type { Assigned, Opening } from '../../course/tonight.ts';
import { WallRing } from './build-ring.tsx';

/** The class as a wall of rings. */
export function RingsWall(props: {
  readonly state: ClassState;
  readonly people: Opening['people'];
  readonly assigned: readonly Assigned[];
  readonly nowMs: number;
  /** Seen by the class: no dates, no repairs. */
  readonly isShared: boolean;
}) {
  const { state, people, assigned, nowMs, isShared } = props;
  return (
    <section className="wall" aria-label="Builds">
      {people.map((p) => {
        const own = assigned.find((a) => a.build === p.build);
        return (
          <Link
            key={p.build}
            href={`/bench/${p.build}`}
            className="wall-cell"
            aria-label={`Bench page of ${labelOf(state, p.person)}`}
          >
            <WallRing
              state={state}
              build={p.build}
              nowMs={nowMs}
              isAway={p.here === false}
              isShared={isShared}
              {...(own ? { assigned: own } : {})}
            />
          </Link>
        );
      })}
    </section>
  );
}
