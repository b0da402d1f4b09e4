import { type ClassState, labelOf } from '../../course/class-state.ts';
import { ringOf } from '../../course/ring.ts';
import type { Assigned } from '../../course/tonight.ts';
import type { RingSegment } from '../../drawing/ring-shape.ts';
import { MINUTE_MS } from '../../quantity/time.ts';
import { Ring } from '../parts/ring.tsx';
import { numberOfBuild, operationName, personOfBuild } from './class-names.ts';
import { sinceWords, when } from './clock-words.ts';

/** Segments of a build's ring at a moment. */
export function segmentsOf(
  state: ClassState,
  build: string,
  nowMs: number,
  isShared = false,
): readonly RingSegment[] {
  const facts = state.builds.get(build);
  return facts
    ? ringOf(state, build, facts, nowMs).segments.map((s) => ({
        ...s,
        // the class sees no repairs of others
        state: s.likelyMin === 0 ? 'left out' : isShared && s.state === 'to repair' ? 'ready' : s.state,
      }))
    : [];
}

/** Two short lines for the hole: what, until when. */
function holeLines(
  state: ClassState,
  build: string,
  assigned: Assigned | undefined,
  nowMs: number,
  isShared: boolean,
): { readonly lines: readonly string[]; readonly isUrgent: boolean } {
  const facts = state.builds.get(build);
  if (facts?.help) return { lines: ['asks for help', sinceWords(facts.help.atMs, nowMs)], isUrgent: true };
  const offer = assigned?.first;
  if (offer)
    return {
      lines: [
        short(operationName(state, offer.op)),
        offer.signFirst ? 'to sign first' : offer.running ? 'at work' : `about ${offer.likelyMin} min`,
      ],
      isUrgent: offer.signFirst !== undefined,
    };
  const waits = assigned?.next.withheld.find((w) => w.untilMs !== undefined);
  if (waits?.untilMs !== undefined)
    return { lines: ['rests', isShared ? '' : `to ${when(waits.untilMs, nowMs)}`], isUrgent: false };
  const reason = assigned?.next.withheld[0];
  return {
    lines: reason ? [short(operationName(state, reason.op)), 'waits'] : ['nothing next', ''],
    isUrgent: false,
  };
}

/** What fits into the hole: without articles, whole words. */
function short(words: string): string {
  const bare = words.replace(/ (the|a|an) /g, ' ');
  return bare.length > 18 ? `${bare.slice(0, 18).replace(/[ ,]+\S*$/, '')} …` : bare;
}

/** One build on the wall. */
export function WallRing(props: {
  readonly state: ClassState;
  readonly build: string;
  readonly assigned?: Assigned;
  readonly nowMs: number;
  readonly isAway: boolean;
  readonly isShared: boolean;
}) {
  const { state, build, assigned, nowMs, isAway, isShared } = props;
  const number = numberOfBuild(state, build);
  const help = state.builds.get(build)?.help;
  const { lines, isUrgent } = isAway
    ? { lines: ['away tonight', ''], isUrgent: false }
    : holeLines(state, build, assigned, nowMs, isShared);
  return (
    <Ring
      segments={segmentsOf(state, build, nowMs, isShared)}
      name={labelOf(state, personOfBuild(state, build))}
      lines={lines.filter((l) => l !== '')}
      isAway={isAway}
      isUrgent={isUrgent}
      {...(number === undefined ? {} : { number })}
      {...(help ? { helpMin: (nowMs - help.atMs) / MINUTE_MS } : {})}
    />
  );
}
