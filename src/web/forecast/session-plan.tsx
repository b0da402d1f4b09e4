import type { PlanRow } from '../../course/plan-rows.ts';

/** The plan, session by session: who does what where. */
export function SessionPlan({ rows }: { readonly rows: readonly PlanRow[] }) {
  const sessions = new Map<number, PlanRow[]>();
  for (const r of rows) {
    if (r.session === undefined) continue;
    const list = sessions.get(r.session);
    if (list) list.push(r);
    else sessions.set(r.session, [r]);
  }
  return (
    <section>
      <h2 className="hd">Session by session</h2>
      {[...sessions].slice(0, 40).map(([number, list], i) => (
        <details key={number} open={i === 0}>
          <summary>
            Session {number}, {list[0]?.begin.slice(0, 10)}{' '}
            <span className="q">{list.length} stretches of work</span>
          </summary>
          <div className="table-scroll">
            <table>
              <tbody>
                {list.map((r) => (
                  <tr key={r.activity + r.begin}>
                    <td>{r.begin.slice(11)}</td>
                    <th scope="row">{r.learners.join(', ')}</th>
                    <td>{r.what}</td>
                    <td>{r.station}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </details>
      ))}
    </section>
  );
}
