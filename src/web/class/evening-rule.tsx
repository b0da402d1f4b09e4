import type { SessionFact } from '../../course/course-facts.ts';
import { cleaningMin } from '../../course/what-next.ts';
import { MINUTE_MS } from '../../quantity/time.ts';
import { clock } from './clock-words.ts';

const WIDTH = 1200;
const HALF_HOUR_MS = 1_800_000;

/** The evening as a steel rule with this minute on it. */
export function EveningRule({ session, nowMs }: { readonly session: SessionFact; readonly nowMs: number }) {
  const { startMs, endMs } = session;
  const share = (ms: number): number => (ms - startMs) / (endMs - startMs);
  const at = (ms: number): number => share(ms) * WIDTH;
  const minutes = Math.round((endMs - startMs) / MINUTE_MS);
  const ticks = Array.from({ length: Math.floor(minutes / 5) + 1 }, (_, i) => startMs + i * 300_000);
  const isHalf = (ms: number): boolean => (ms - startMs) % HALF_HOUR_MS === 0;
  const clean = endMs - cleaningMin * MINUTE_MS;
  const isNow = nowMs >= startMs && nowMs <= endMs;
  const label = (ms: number) => ({ left: `${share(ms) * 100}%` });
  return (
    <div
      className="evening-rule"
      role="img"
      aria-label={`From ${clock(startMs)} to ${clock(endMs)}, cleaning from ${clock(clean)}${isNow ? `, now ${clock(nowMs)}` : ''}`}
    >
      <svg viewBox={`0 0 ${WIDTH} 18`} preserveAspectRatio="none" aria-hidden="true">
        <path className="edge" d={`M0 .5H${WIDTH}`} />
        {ticks.map((t) => (
          <path key={t} className="tick" d={`M${at(t)} 0V${isHalf(t) ? 18 : 8}`} />
        ))}
      </svg>
      {ticks
        .filter((t) => isHalf(t) && t < endMs)
        .map((t) => (
          <b key={t} className="at" ref={(el) => el?.style.setProperty('left', label(t).left)}>
            {clock(t)}
          </b>
        ))}
      <span className="clean" ref={(el) => el?.style.setProperty('left', label(clean).left)}>
        clean up
      </span>
      {isNow && (
        <span className="now" ref={(el) => el?.style.setProperty('left', label(nowMs).left)}>
          {clock(nowMs)}
        </span>
      )}
    </div>
  );
}
