import type { SessionFact } from '../../course/course-facts.ts';
import { cleaningMin } from '../../course/what-next.ts';
import { clock } from './clock-words.ts';

const WIDTH = 1200;

/** The evening as a steel rule with this minute on it. */
export function EveningRule({ session, nowMs }: { readonly session: SessionFact; readonly nowMs: number }) {
  const { startMs, endMs } = session;
  const at = (ms: number): number => ((ms - startMs) / (endMs - startMs)) * WIDTH;
  const minutes = Math.round((endMs - startMs) / 60_000);
  const ticks = Array.from({ length: Math.floor(minutes / 5) + 1 }, (_, i) => startMs + i * 300_000);
  const isHalf = (ms: number): boolean => (ms - startMs) % 1_800_000 === 0;
  const clean = endMs - cleaningMin * 60_000;
  const isNow = nowMs >= startMs && nowMs <= endMs;
  return (
    <svg
      className="evening-rule"
      viewBox={`0 0 ${WIDTH} 44`}
      preserveAspectRatio="none"
      role="img"
      aria-label={`From ${clock(startMs)} to ${clock(endMs)}, cleaning from ${clock(clean)}${isNow ? `, now ${clock(nowMs)}` : ''}`}
    >
      <path className="edge" d={`M0 .5H${WIDTH}`} />
      {ticks.map((t) => (
        <path key={t} className="tick" d={`M${at(t)} 0V${isHalf(t) ? 18 : 8}`} />
      ))}
      <rect className="clean" x={at(clean)} y="24" width={WIDTH - at(clean)} height="16" />
      {isNow && <path className="now" d={`M${at(nowMs)} 0V44`} />}
    </svg>
  );
}
