import type { PlannedPart } from '../route/planned-route.ts';
import { push } from './build-facts.ts';
import { buildsOf, planOf } from './class-state.ts';
import { progressOf } from './progress.ts';
import type { Look, NextSteps, Offer } from './what-next.ts';

type Batch = PlannedPart['batch'];

/** Members of one activity at one setting. */
export interface BatchList {
  readonly op: string;
  readonly part: string;
  readonly name: string;
  readonly station: string;
  readonly scope: Batch['scope'];
  readonly builds: readonly string[];
  /** Minutes of the whole run, and of the teacher in it. */
  readonly runMin: number;
  readonly teacherMin: number;
  /** Most of the class has done it: this is for those who missed it. */
  readonly isCatchUp: boolean;
}

/**
 * Everything open that is done in batches, with those who could join; the largest first.
 *
 * @param look      of the class
 * @param assigned  next steps of those who are here
 * @source          common practice, no published source
 */
export function batchLists(
  look: Look,
  assigned: readonly { readonly next: NextSteps }[],
): readonly BatchList[] {
  const groups = new Map<string, readonly Offer[]>();
  for (const a of assigned)
    for (const o of a.next.offers) if (o.batch !== 'none') push(groups, `${o.op}/${o.part}`, o);
  const lists = [...groups.values()].map((offers) => batchList(look, offers));
  return lists.sort((a, b) => b.builds.length - a.builds.length || (a.op < b.op ? -1 : 1));
}

function batchList(look: Look, offers: readonly Offer[]): BatchList {
  const o = offers[0] as Offer;
  const builds = buildsOf(look.state);
  const facts = builds.find((b) => b.id === o.build)?.facts;
  const planned = facts && planOf(look.state, facts).byId.get(o.op);
  const part = planned?.parts.find((p) => p.id === o.part) as PlannedPart;
  const count = offers.length;
  const doneBy = builds.filter(
    (b) => progressOf(look.state, b.facts, look.nowMs).get(o.op)?.next === undefined,
  ).length;
  return {
    op: o.op,
    part: o.part,
    name: planned?.op.name ?? o.op,
    station: o.station,
    scope: part.batch.scope,
    builds: offers.map((x) => x.build),
    runMin: runMinutes(part.batch, count),
    teacherMin: teacherMin(part.batch, count),
    isCatchUp: doneBy >= builds.length / 2 && count < builds.length / 2,
  };
}

const setUpsOf = (batch: Batch, count: number): number => Math.ceil(count / Math.max(1, batch.most));

/** Minutes of a run of some pieces: setting up as often as it must be, and each piece. */
export function runMinutes(batch: Batch, count: number): number {
  return setUpsOf(batch, count) * batch.setUpMin + count * batch.eachMin;
}

function teacherMin(batch: Batch, count: number): number {
  switch (batch.teacher) {
    case 'whole':
      return runMinutes(batch, count);
    case 'each':
    case 'sign':
      return count * batch.teacherMin;
    case 'first':
      return setUpsOf(batch, count) * batch.teacherMin;
    case 'none':
      return 0;
  }
}
