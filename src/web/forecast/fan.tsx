import type { ClassState } from '../../course/class-state.ts';
import { DAY_MS } from '../../quantity/time.ts';
import { buildName } from '../class/class-names.ts';
import type { LearnerProspect } from './forecast-messages.ts';
import { shortDay, wallClock } from './wall-clock.ts';
import { workLine } from './work-line.ts';

const WIDTH = 900;
const HEIGHT = 330;
const LEFT = 52;
const TOP = 84;
const BOTTOM = 292;

const dayOf = (date: string): number => Date.parse(`${date}T12:00Z`) / DAY_MS;

interface FanProps {
  readonly state: ClassState;
  readonly prospect: LearnerProspect;
  readonly due: string;
  readonly nowMs: number;
}

/** Work done to today, and from there the fan of days on which the instrument may be finished. */
export function Fan({ state, prospect: p, due, nowMs }: FanProps) {
  const line = workLine(state, p.id, nowMs);
  const dayAt = (ms: number): number => wallClock.minuteOf(ms) / 1440;
  const today = dayAt(nowMs);
  const first = Math.min(line[0] ? dayAt(line[0].ms) : today, today - 1);
  const last = Math.max(dayOf(p.twenty.at(-1) ?? p.p90), dayOf(due)) + 10;
  const x = (day: number): number => LEFT + ((day - first) / (last - first)) * (WIDTH - LEFT - 16);
  const y = (share: number): number => BOTTOM - share * (BOTTOM - TOP);
  const share = line.at(-1)?.shareFrac ?? 0;
  const wedge = (from: string, to: string): string =>
    `M${x(today)} ${y(share)}L${x(dayOf(from))} ${y(1)}H${x(dayOf(to))}Z`;
  const words = `${buildName(state, p.id)}: ${Math.round(share * 100)} % done to today; half of the tries end between ${shortDay(p.p25)} and ${shortDay(p.p75)}, the middle is ${shortDay(p.p50)}; ${p.ofTwenty} of 20 tries end by ${shortDay(due)}.`;
  return (
    <figure className="fan">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={words}>
        {[0, 0.25, 0.5, 0.75, 1].map((s) => (
          <g key={s}>
            <path className={s === 0 || s === 1 ? 'axis' : 'rule'} d={`M${LEFT} ${y(s)}H${WIDTH - 16}`} />
            <text x={LEFT - 8} y={y(s) + 5} textAnchor="end">
              {s * 100} %
            </text>
          </g>
        ))}
        {monthsBetween(first, last).map((m) => (
          <g key={m.day}>
            <path className="axis" d={`M${x(m.day)} ${BOTTOM}v8`} />
            <text x={x(m.day) + 4} y={BOTTOM + 22}>
              {m.name}
            </text>
          </g>
        ))}
        <path className="outer" d={wedge(p.p10, p.p90)} />
        <path className="inner" d={wedge(p.p25, p.p75)} />
        <path className="middle" d={`M${x(today)} ${y(share)}L${x(dayOf(p.p50))} ${y(1)}`} />
        {line.length > 0 && (
          <path className="done" d={`M${line.map((w) => `${x(dayAt(w.ms))} ${y(w.shareFrac)}`).join('L')}`} />
        )}
        <path className="today" d={`M${x(today)} ${TOP - 14}V${BOTTOM}`} />
        <text className="today-word" x={x(today) - 6} y={TOP - 18} textAnchor="end">
          today
        </text>
        <path className="due" d={`M${x(dayOf(due))} ${TOP - 62}V${BOTTOM}`} />
        <text className="due-word" x={x(dayOf(due)) - 8} y={TOP - 52} textAnchor="end">
          by {shortDay(due)}
        </text>
        {dots(p, due, x).map((d) => (
          <circle key={d.key} className={d.isLate ? 'late' : 'in-time'} cx={d.cx} cy={d.cy} r="5" />
        ))}
      </svg>
      <figcaption>
        <strong>{buildName(state, p.id)}</strong>: {p.ofTwenty} of 20 tries finish by {shortDay(due)}. Middle
        of the tries {shortDay(p.p50)}, half of them between {shortDay(p.p25)} and {shortDay(p.p75)}, 8 of 10
        between {shortDay(p.p10)} and {shortDay(p.p90)}.{' '}
        <span className="q">
          Filled dots: tries in time, hollow: late. Between today and the end the fan is drawn straight.
        </span>
      </figcaption>
    </figure>
  );
}

/** Twenty tries on the 100 % line; those of one week stand on each other. */
function dots(
  p: LearnerProspect,
  due: string,
  x: (day: number) => number,
): readonly { readonly key: string; readonly cx: number; readonly cy: number; readonly isLate: boolean }[] {
  const used = new Map<number, number>();
  return p.twenty.map((date, i) => {
    const column = Math.round(x(dayOf(date)) / 13);
    const height = used.get(column) ?? 0;
    used.set(column, height + 1);
    return { key: `${date} ${i}`, cx: column * 13, cy: TOP - 9 - height * 12, isLate: date > due };
  });
}

function monthsBetween(
  first: number,
  last: number,
): readonly { readonly day: number; readonly name: string }[] {
  const months: { day: number; name: string }[] = [];
  const at = new Date(first * DAY_MS);
  at.setUTCDate(1);
  at.setUTCHours(0, 0, 0, 0);
  for (;;) {
    at.setUTCMonth(at.getUTCMonth() + 1);
    const day = at.getTime() / DAY_MS;
    if (day >= last) break;
    months.push({ day, name: at.toLocaleDateString('en-GB', { month: 'short', timeZone: 'UTC' }) });
  }
  const step = Math.ceil(months.length / 14);
  return months.filter((_, i) => i % step === 0);
}
