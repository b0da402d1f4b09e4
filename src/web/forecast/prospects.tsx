import { DAY_MS } from '../../quantity/time.ts';
import type { ForecastNews, LearnerProspect } from './forecast-messages.ts';

const WIDTH = 600;

const dayNumber = (date: string): number => Date.parse(`${date}T00:00Z`) / DAY_MS;
const shown = (date: string): string =>
  new Date(`${date}T12:00Z`).toLocaleDateString('en-GB', { day: 'numeric', month: 'short' });

/** Finish dates as a span from early to late with the middle on it, the hand-over date as a bar through all rows. */
export function Prospects({ forecast }: { readonly forecast: Extract<ForecastNews, { kind: 'forecast' }> }) {
  const rows = [...forecast.learners].sort((a, b) => a.p50.localeCompare(b.p50));
  const first = Math.min(...rows.map((r) => dayNumber(r.p10)), dayNumber(forecast.due)) - 3;
  const last = Math.max(...rows.map((r) => dayNumber(r.p90)), dayNumber(forecast.due)) + 3;
  const at = (date: string): number => ((dayNumber(date) - first) / (last - first)) * WIDTH;
  return (
    <section className="prospects">
      <h2 className="hd">
        Who will be done when <span className="q">{forecast.played} courses played through</span>
      </h2>
      <ul>
        {rows.map((r) => (
          <ProspectRow key={r.id} prospect={r} at={at} due={forecast.due} />
        ))}
      </ul>
      {forecast.course && (
        <p>
          The whole course is done by {shown(forecast.due)} in{' '}
          <strong>{forecast.course.ofTwenty} of 20 tries</strong>; likely on {shown(forecast.course.p50)}.
        </p>
      )}
      {forecast.bottlenecks[0] && (
        <p>
          Most waiting is for {forecast.bottlenecks[0].name}:{' '}
          {Math.round(forecast.bottlenecks[0].shareFrac * 100)} % of the time lost.
        </p>
      )}
      <h3 className="nm">What would help</h3>
      <ul className="changes">
        {forecast.changes.slice(0, 6).map((c) => (
          <li key={c.text}>
            {c.text}:{' '}
            {c.earlierDays > 0.05 ? `${c.earlierDays.toFixed(1)} days earlier on average` : 'no earlier'}
          </li>
        ))}
      </ul>
    </section>
  );
}

function ProspectRow({
  prospect: r,
  at,
  due,
}: {
  readonly prospect: LearnerProspect;
  readonly at: (date: string) => number;
  readonly due: string;
}) {
  const words = `${r.id}: between ${shown(r.p10)} and ${shown(r.p90)}, likely ${shown(r.p50)}, in time in ${r.ofTwenty} of 20 tries`;
  return (
    <li>
      <strong>{r.id}</strong>
      <svg viewBox={`0 0 ${WIDTH} 24`} role="img" aria-label={words} preserveAspectRatio="none">
        <path className="span" d={`M${at(r.p10)} 12H${at(r.p90)}`} />
        <path className="mid" d={`M${at(r.p50)} 4V20`} />
        <path className="due" d={`M${at(due)} 0V24`} />
      </svg>
      <span className={r.ofTwenty < 10 ? 'late' : ''}>
        {shown(r.p50)} <span className="q">{r.ofTwenty} of 20</span>
      </span>
    </li>
  );
}
