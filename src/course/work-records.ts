import { MINUTE_MS } from '../quantity/time.ts';
import type { WorkRecord } from '../schedule/class/minutes.ts';
import type { PartFact } from './build-facts.ts';
import { buildsOf, type ClassState, planOf, sessionsOf } from './class-state.ts';
import type { SessionFact } from './course-facts.ts';

/**
 * Every piece of work of this course of which start and end are known, for learning its minutes. Work done in batches is
 * left out: its minutes belong to no one piece.
 *
 * @param state  the class
 * @returns      one record a part, learners by the ids of their builds
 * @source       common practice, no published source
 */
export function workRecords(state: ClassState): readonly WorkRecord[] {
  const sessions = sessionsOf(state);
  return buildsOf(state).flatMap((b) => {
    const plan = planOf(state, b.facts);
    return [...b.facts.operations].flatMap(([op, fact]) => {
      const planned = plan.byId.get(op);
      if (!planned || fact.before === true || fact.coarse === true) return [];
      return [...fact.parts].flatMap(([id, part]): WorkRecord[] => {
        const of = planned.parts.find((p) => p.id === id);
        if (of?.batch.scope !== 'none' || part.startedMs === undefined || part.doneMs === undefined)
          return [];
        const isOneSession = sessions.some((s) => holds(s, part));
        return [
          {
            operationId: op,
            partIndex: Number.parseInt(id, 10) - 1,
            learnerId: b.id,
            minutes: { lowMin: of.minutes.low, likelyMin: of.minutes.likely, highMin: of.minutes.high },
            tookMin: (part.doneMs - part.startedMs) / MINUTE_MS,
            startedBy: part.startedBy ?? 'somebody',
            doneBy: part.doneBy ?? 'somebody else',
            isOneSession,
            hasBellBetween: !isOneSession,
          },
        ];
      });
    });
  });
}

/** Whether start and end of a part lie between the opening and the bell of a session. */
function holds(s: SessionFact, part: PartFact): boolean {
  const from = Math.min(s.openedMs ?? s.startMs, s.startMs);
  const to = Math.max(s.closedMs ?? s.endMs, s.endMs);
  return (part.startedMs as number) >= from && (part.doneMs as number) <= to;
}
