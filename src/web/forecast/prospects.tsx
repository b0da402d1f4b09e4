import { useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { DAY_MS } from '../../quantity/time.ts';
import { buildName } from '../class/class-names.ts';
import { Fan } from './fan.tsx';
import type { ForecastNews, LearnerProspect } from './forecast-messages.ts';
import { shortDay } from './wall-clock.ts';

const WIDTH = 600;

const dayNumber = (date: string): number => Date.parse(`${date}T00:00Z`) / DAY_MS;

interface ProspectsProps {
  readonly state: ClassState;
  readonly nowMs: number;
  readonly forecast: Extract<ForecastNews, { readonly kind: 'forecast' }>;
}

/** The fan of one learner, all learners as spans with the hand-over date as a bar through them, and what would help. */
export function Prospects({ state, nowMs, forecast }: ProspectsProps) {
  const rows = [...forecast.learners].sort((a, b) => a.p50.localeCompare(b.p50));
  const [shown, show] = useState<string>();
  const own = rows.find((r) => r.id === shown) ?? rows.at(-1);
  const first = Math.min(...rows.map((r) => dayNumber(r.p10)), dayNumber(forecast.due)) - 3;
  const last = Math.max(...rows.map((r) => dayNumber(r.p90)), dayNumber(forecast.due)) + 3;
  const at = (date: string): number => ((dayNumber(date) - first) / (last - first)) * WIDTH;
  return (
    <section className="prospects">
      <h2 className="hd">
        When each instrument may be finished{' '}
        <span className="q">{forecast.played} courses played through with the minutes of this class</span>
      </h2>
      {own && <Fan state={state} prospect={own} due={forecast.due} nowMs={nowMs} />}
      <ul>
        {rows.map((r) => (
          <ProspectRow
            key={r.id}
            name={buildName(state, r.id)}
            prospect={r}
            at={at}
            due={forecast.due}
            isShown={r === own}
            show={() => show(r.id)}
          />
        ))}
      </ul>
      {forecast.course && (
        <p>
          The whole course is done by {shortDay(forecast.due)} in{' '}
          <strong>{forecast.course.ofTwenty} of 20 tries</strong>; likely on {shortDay(forecast.course.p50)}.
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
        {forecast.changes.slice(0, 10).map((c) => (
          <li key={c.text} data-kind={c.kind}>
            {c.text}: {gainWords(c)}
          </li>
        ))}
      </ul>
    </section>
  );
}

function gainWords(c: ProspectsProps['forecast']['changes'][number]): string {
  const days = c.earlierDays > 0.05 ? `${c.earlierDays.toFixed(1)} days earlier on average` : 'no earlier';
  return c.moreOfTwenty > 0 ? `${c.moreOfTwenty} more of 20 tries in time, ${days}` : days;
}

interface ProspectRowProps {
  readonly name: string;
  readonly prospect: LearnerProspect;
  readonly at: (date: string) => number;
  readonly due: string;
  readonly isShown: boolean;
  readonly show: () => void;
}

function ProspectRow({ name, prospect: r, at, due, isShown, show }: ProspectRowProps) {
  const words = `${name}: between ${shortDay(r.p10)} and ${shortDay(r.p90)}, likely ${shortDay(r.p50)}, in time in ${r.ofTwenty} of 20 tries`;
  return (
    <li data-shown={isShown}>
      <button type="button" className="who" aria-pressed={isShown} onClick={show}>
        {name}
      </button>
      <svg viewBox={`0 0 ${WIDTH} 24`} role="img" aria-label={words} preserveAspectRatio="none">
        <path className="span" d={`M${at(r.p10)} 12H${at(r.p90)}`} />
        <path className="half" d={`M${at(r.p25)} 12H${at(r.p75)}`} />
        <path className="mid" d={`M${at(r.p50)} 2V22`} />
        <path className="due" d={`M${at(due)} 0V24`} />
      </svg>
      <span className={r.ofTwenty < 10 ? 'late' : ''}>
        {r.ofTwenty} of 20 <span className="q">{shortDay(r.p50)}</span>
      </span>
      <span className="q pull">
        {r.ofTwenty < 20 && r.pullForward
          ? `${r.pullForward.text}: ${r.pullForward.earlierDays.toFixed(1)} days`
          : ''}
      </span>
    </li>
  );
}
