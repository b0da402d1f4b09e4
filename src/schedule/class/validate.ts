import { InputError } from '../../quantity/input-error.ts';
import { findCycle } from '../project/problem.ts';
import type { Activity, ClassProblem } from './problem.ts';

/**
 * Refuses a class problem that cannot be meant: one sentence that names what, the value got and the remedy.
 *
 * @param problem  the problem
 * @throws InputError with one sentence
 * @source         arithmetic
 */
export function validateClass(problem: ClassProblem): void {
  checkWindows(problem);
  checkPeople(problem);
  const ids = uniqueIds(problem.activities, 'activity');
  const places = new Map(problem.resources.map((r) => [r.id, r.capacity]));
  for (const activity of problem.activities) checkActivity(activity, places, ids);
  const place = new Map(problem.activities.map((a, i) => [a.id, i]));
  const followers: number[][] = problem.activities.map(() => []);
  problem.activities.forEach((a, i) => {
    for (const link of a.after) followers[place.get(link.activityId)!]!.push(i);
  });
  const cycle = findCycle(followers);
  if (cycle !== undefined)
    throw new InputError(
      'class-cycle',
      `These wait for each other in a circle: ${[...cycle, cycle[0]!].map((i) => problem.activities[i]!.id).join(' -> ')}; take one of the links out.`,
    );
}

function uniqueIds(list: readonly { readonly id: string }[], what: string): Set<string> {
  const ids = new Set<string>();
  for (const { id } of list) {
    if (ids.has(id)) throw new InputError('class-id', `Two times ${what} "${id}"; give each its own id.`);
    ids.add(id);
  }
  return ids;
}

function checkWindows(problem: ClassProblem): void {
  const courses = uniqueIds(problem.courses, 'course');
  uniqueIds(problem.windows, 'session');
  for (const w of problem.windows) {
    if (!Number.isInteger(w.beginMin) || !Number.isInteger(w.endMin))
      throw new InputError(
        'class-window',
        `Session "${w.id}" does not begin and end at whole minutes (${w.beginMin} to ${w.endMin}); round them.`,
      );
    if (w.endMin <= w.beginMin)
      throw new InputError(
        'class-window',
        `Session "${w.id}" ends before it begins: it has ${w.endMin - w.beginMin} usable minutes; correct its hours.`,
      );
    if (w.courseId !== undefined && !courses.has(w.courseId))
      throw new InputError(
        'class-course',
        `Session "${w.id}" belongs to course "${w.courseId}", which is not given; add the course or correct the name.`,
      );
  }
  for (const course of problem.courses)
    if (
      !problem.windows.some(
        (w) =>
          w.kind === 'session' &&
          w.courseId === course.id &&
          w.endMin > (problem.state?.nowMin ?? Number.NEGATIVE_INFINITY),
      )
    )
      throw new InputError(
        'class-no-session',
        `Course "${course.name}" has zero sessions left; add at least one.`,
      );
}

function checkPeople(problem: ClassProblem): void {
  const courses = new Set(problem.courses.map((c) => c.id));
  uniqueIds(problem.learners, 'learner');
  const things = uniqueIds(problem.resources, 'station');
  const both = problem.learners.find((l) => things.has(l.id));
  if (both !== undefined)
    throw new InputError(
      'class-id',
      `"${both.id}" is a learner and also a station, jig or person of the shop; give one of them another name.`,
    );
  for (const learner of problem.learners)
    if (!courses.has(learner.courseId))
      throw new InputError(
        'class-course',
        `Learner "${learner.id}" belongs to course "${learner.courseId}", which is not given; add the course or correct the name.`,
      );
  for (const r of problem.resources)
    if (!Number.isInteger(r.capacity) || r.capacity < 0 || r.capacity > 200)
      throw new InputError(
        'class-capacity',
        `"${r.id}" has ${r.capacity} places; give a whole number from 0 to 200.`,
      );
}

function minutes(value: number, what: string, activity: Activity): void {
  if (!Number.isInteger(value) || value < 0 || value > 5_000_000)
    throw new InputError(
      'class-minutes',
      `${what} "${activity.id}" is ${value} minutes; give a whole number of minutes from 0 on.`,
    );
}

function checkActivity(
  activity: Activity,
  places: ReadonlyMap<string, number>,
  ids: ReadonlySet<string>,
): void {
  const has = (id: string, why: string): void => {
    if ((places.get(id) ?? 0) === 0)
      throw new InputError(
        'class-station',
        `"${activity.id}" ${why} "${id}", which this shop does not have; add it or choose another way.`,
      );
  };
  if (activity.ways.length === 0)
    throw new InputError('class-way', `"${activity.id}" has no way to be done; give at least one.`);
  for (const way of activity.ways) {
    minutes(way.durationMin, 'The work of', activity);
    minutes(way.setUpMin ?? 0, 'The change-over of', activity);
    if (way.stationId !== undefined) has(way.stationId, 'is done at');
    for (const turn of way.turns ?? [])
      if (!activity.buildIds.includes(turn.buildId) || turn.fromMin < 0 || turn.toMin > way.durationMin)
        throw new InputError(
          'class-turn',
          `"${activity.id}" gives ${turn.buildId} the turn from ${turn.fromMin} to ${turn.toMin}; a turn belongs to one of its builds and lies within the ${way.durationMin} minutes of the work.`,
        );
    for (const a of way.attendance) for (const person of a.anyOf) has(person, 'needs');
  }
  for (const jig of activity.jigIds) has(jig, 'uses');
  for (const rest of activity.rests) {
    has(rest.resourceId, 'rests in');
    minutes(rest.restMin, 'The rest of', activity);
    if ((rest.places ?? 1) > (places.get(rest.resourceId) ?? 0))
      throw new InputError(
        'class-places',
        `"${activity.id}" rests in ${rest.places} places of "${rest.resourceId}", of which there are ${places.get(rest.resourceId) ?? 0}; split the lot.`,
      );
  }
  minutes(activity.helperMin, 'The helping at', activity);
  for (const link of activity.after) {
    if (!ids.has(link.activityId))
      throw new InputError(
        'class-link',
        `"${activity.id}" comes after "${link.activityId}", which is not given; add it or take the link out.`,
      );
    minutes(link.lagMin, 'The rest before', activity);
  }
}
