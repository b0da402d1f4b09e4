import type { ClassState } from '../../course/class-state.ts';
import { buildName, operationName } from '../class/class-names.ts';
import type { Planned } from './forecast-messages.ts';

const MOST = 30;

/** What a new plan changes against the published one, and the choice to follow it. */
export function ReplanNews(props: {
  readonly state: ClassState;
  readonly planned: Planned;
  readonly publish: () => void;
  readonly leave: () => void;
}) {
  const { state, planned, publish, leave } = props;
  const { changes, isKept, wouldHelp, pinBreaks } = planned;
  const moved = (changes ?? []).filter((c) => c.from !== undefined);
  const added = (changes ?? []).filter((c) => c.from === undefined);
  return (
    <section className="replan" data-kept={isKept}>
      <h2 className="hd">{changes === undefined ? 'A plan to publish' : 'What changes'}</h2>
      {isKept && (
        <p>The published plan still holds, and nothing found is half an hour better. It may stay.</p>
      )}
      {changes !== undefined && !isKept && (
        <p>
          {moved.length === 0
            ? 'No step goes into another session.'
            : `${moved.length} ${moved.length === 1 ? 'step goes' : 'steps go'} into another session.`}
          {added.length > 0 && ` ${added.length} were not planned before.`} What is done stands as it was, and
          so do the published sessions of other courses.
        </p>
      )}
      {moved.length > 0 && !isKept && (
        <details>
          <summary>The steps, one by one</summary>
          <ul>
            {moved.slice(0, MOST).map((c) => (
              <li key={c.id}>
                {operationName(state, c.op)}, {c.builds.map((b) => buildName(state, b)).join(', ')}: session{' '}
                {c.from} to {c.to}
              </li>
            ))}
          </ul>
          {moved.length > MOST && <p className="q">and {moved.length - MOST} more</p>}
        </details>
      )}
      {pinBreaks.length > 0 && (
        <>
          <p>
            <strong>Your own choices do not fit into it:</strong>
          </p>
          <ul>
            {pinBreaks.map((b) => (
              <li key={b}>{b}</li>
            ))}
          </ul>
        </>
      )}
      {wouldHelp.map((w) => (
        <p key={w} className="q">
          {w}
        </p>
      ))}
      <p className="acts">
        <button type="button" className="btn go" onClick={publish}>
          Publish this plan
        </button>
        <button type="button" className="btn" onClick={leave}>
          Leave it
        </button>
      </p>
    </section>
  );
}
