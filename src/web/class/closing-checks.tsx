import type { BuildFacts } from '../../course/build-facts.ts';
import type { ClassState } from '../../course/class-state.ts';
import { closingList } from '../../course/closing-list.ts';
import { capital } from '../../quantity/words.ts';
import { tickClosing } from './acts.ts';

/** The list before a box is glued: item by item, not to be skipped. */
export function ClosingChecks(props: {
  readonly state: ClassState;
  readonly build: string;
  readonly facts: BuildFacts;
  readonly canWrite: boolean;
}) {
  const { state, build, facts, canWrite } = props;
  const items = closingList(state.route, facts);
  const open = items.filter((i) => !i.isChecked).length;
  return (
    <section className="closing-checks">
      <h2 className="hd">Closing list</h2>
      <p className="q">
        {open > 0
          ? `${open} of ${items.length} open. The box is not glued before all are ticked.`
          : 'All ticked: the teacher looks inside and signs.'}
      </p>
      <ul>
        {items.map(({ item, isChecked }) => (
          <li key={item}>
            <button
              type="button"
              className="btn"
              aria-pressed={isChecked}
              disabled={!canWrite || isChecked}
              onClick={() => void tickClosing(build, item)}
            >
              <span className="tick-mark" aria-hidden="true" />
              {capital(item)}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
