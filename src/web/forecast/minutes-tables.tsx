import type { ClassState } from '../../course/class-state.ts';
import { buildName, operationName } from '../class/class-names.ts';
import type { SeenPlan } from './forecast-messages.ts';

const ROWS = 14;

/** Minutes asked against minutes there are, the fullest first. */
export function MinutesTable({ asked }: { readonly asked: SeenPlan['asked'] }) {
  const full = asked.filter((r) => r.overFullMin > 0);
  return (
    <section>
      <h2 className="hd">Minutes asked and minutes there are</h2>
      <p className="q">
        {full.length === 0
          ? 'Nothing is over-full in the sessions that are left.'
          : `Over-full: ${full.map((r) => `${r.name} by ${Math.round(r.overFullMin)} min`).join(', ')}.`}
      </p>
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
            {asked.slice(0, ROWS).map((r) => (
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

/** What this course's own record says about the minutes of the route. */
export function LearnedMinutes(props: { readonly state: ClassState; readonly learned: SeenPlan['learned'] }) {
  const { state, learned } = props;
  const percent = Math.round(learned.usedFrac * 100);
  return (
    <section>
      <h2 className="hd">Minutes of this course</h2>
      <p>
        {learned.recordCount === 0
          ? 'No start and end of a step is known yet; the minutes of the route stand.'
          : `${Math.round(learned.recordCount * learned.usedFrac)} of ${learned.recordCount} timed pieces of work are used (${percent} %): begun and ended by the same person within one session, and neither a third of the shortest nor three times the longest time.`}
      </p>
      <details>
        <summary>What was learned</summary>
        <div className="learned">
          <table>
            <thead>
              <tr>
                <th scope="col">Step</th>
                <th scope="col">Against the route</th>
                <th scope="col">Times seen</th>
              </tr>
            </thead>
            <tbody>
              {learned.operations.slice(0, ROWS).map((o) => (
                <tr key={o.id}>
                  <th scope="row">{operationName(state, o.id.split('.')[0] ?? o.id)}</th>
                  <td>{times(o.factor)}</td>
                  <td>{o.count}</td>
                </tr>
              ))}
            </tbody>
          </table>
          <table>
            <thead>
              <tr>
                <th scope="col">Learner</th>
                <th scope="col">Takes</th>
                <th scope="col">Times seen</th>
              </tr>
            </thead>
            <tbody>
              {learned.learners.map((l) => (
                <tr key={l.id}>
                  <th scope="row">{buildName(state, l.id)}</th>
                  <td>{times(l.factor)}</td>
                  <td>{l.count}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      </details>
    </section>
  );
}

/** `12 % longer`, `as long`. */
function times(factor: number): string {
  const percent = Math.round((factor - 1) * 100);
  return percent === 0 ? 'as long' : `${Math.abs(percent)} % ${percent > 0 ? 'longer' : 'shorter'}`;
}
