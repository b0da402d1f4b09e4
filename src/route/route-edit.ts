import { InputError } from '../quantity/input-error.ts';
import { readRoute } from './route.ts';
import type { Jig, Minutes, Operation, Route } from './route-types.ts';

/** One change a teacher makes to the route of a course. */
export type RouteEdit =
  | { readonly what: 'minutes'; readonly op: string; readonly part: number; readonly minutes: Minutes }
  | { readonly what: 'text'; readonly op: string; readonly text: string }
  | { readonly what: 'photo'; readonly op: string; readonly hash: string }
  | { readonly what: 'link'; readonly op: string; readonly url: string }
  | { readonly what: 'jig'; readonly jig: Jig; readonly ops: readonly string[] }
  | { readonly what: 'switch-off'; readonly op: string }
  | { readonly what: 'switch-on'; readonly op: string }
  | {
      readonly what: 'add';
      readonly id: string;
      readonly name: string;
      readonly step: string;
      readonly after: readonly string[];
      readonly before: readonly string[];
      readonly at: readonly string[];
      readonly minutes: Minutes;
      readonly text: string;
    };

/** A route with the teacher's changes, and the operations he switched off. */
export interface EditedRoute {
  readonly route: Route;
  readonly off: readonly string[];
}

/**
 * The route of a course after the teacher's changes, in their order. The result is checked as a whole.
 *
 * @param route  a checked route
 * @param edits  changes, oldest first
 * @returns      the changed route and the operations switched off (they hand their predecessors on)
 * @throws InputError naming what a change asks for and why it cannot be
 * @source       common practice, no published source
 */
export function editRoute(route: Route, edits: readonly RouteEdit[]): EditedRoute {
  let now = route;
  const off = new Set<string>();
  for (const e of edits) {
    if (e.what === 'switch-off') off.add(operationOf(now, e.op).id);
    else if (e.what === 'switch-on') off.delete(operationOf(now, e.op).id);
    else now = editOnce(now, e);
  }
  return { route: edits.length === 0 ? route : readRoute(now), off: [...off] };
}

/**
 * Why a change should not be made although the route would stand: an operation that every build has and the teacher signs
 * at its end keeps back what comes after it, so without it nothing could be signed. Changes already in a record are not
 * asked.
 *
 * @returns  a sentence; undefined when nothing stands against it
 * @source   common practice, no published source
 */
export function editFault(route: Route, edit: RouteEdit): string | undefined {
  if (edit.what !== 'switch-off') return undefined;
  const o = operationOf(route, edit.op);
  const hold = route.holdPoints.find((h) => h.op === o.id && h.when === 'after');
  if (!hold || o.optional) return undefined;
  return `“${o.name}” ends with your signature (${hold.sign}), and later steps wait for it, so it cannot be switched off; change its minutes or its words instead.`;
}

function editOnce(route: Route, e: Exclude<RouteEdit, { what: 'switch-off' | 'switch-on' }>): Route {
  switch (e.what) {
    case 'minutes':
      return changeOperation(route, e.op, (o) => withMinutes(o, e.part, e.minutes));
    case 'text':
      return changeOperation(route, e.op, (o) => ({ ...o, ownText: e.text }));
    case 'photo':
      return changeOperation(route, e.op, (o) => ({ ...o, photo: e.hash }));
    case 'link':
      return changeOperation(route, e.op, (o) => ({ ...o, link: webLink(e.url) }));
    case 'jig':
      return withJig(route, e.jig, e.ops);
    case 'add':
      return withOperation(route, e);
  }
}

function operationOf(route: Route, id: string): Operation {
  const o = route.operations.find((x) => x.id === id);
  if (!o)
    throw new InputError(
      'unknown-operation',
      `The route has no operation called ${id}; choose one that it has.`,
      'op',
    );
  return o;
}

function changeOperation(route: Route, id: string, change: (o: Operation) => Operation): Route {
  operationOf(route, id);
  return { ...route, operations: route.operations.map((o) => (o.id === id ? change(o) : o)) };
}

function withMinutes(o: Operation, part: number, minutes: Minutes): Operation {
  if (!o.parts[part - 1])
    throw new InputError(
      'unknown-part',
      `${o.id} has ${o.parts.length} parts, but part ${part} was named; choose 1 to ${o.parts.length}.`,
      'part',
    );
  return {
    ...o,
    parts: o.parts.map((p, i) =>
      i === part - 1
        ? {
            ...p,
            minutes,
            batch: p.batch.scope === 'none' ? { ...p.batch, eachMin: minutes.likely } : p.batch,
          }
        : p,
    ),
  };
}

function webLink(url: string): string {
  if (!/^https?:\/\/[^\s]+$/.test(url))
    throw new InputError(
      'not-a-link',
      `"${url}" is not a web address; begin it with https:// and leave out spaces.`,
      'url',
    );
  return url;
}

function withJig(route: Route, jig: Jig, ops: readonly string[]): Route {
  for (const id of ops) operationOf(route, id);
  const jigs = [...route.jigs.filter((j) => j.id !== jig.id), jig];
  const operations = route.operations.map((o) =>
    ops.includes(o.id) && !o.jigs.includes(jig.id) ? { ...o, jigs: [...o.jigs, jig.id] } : o,
  );
  return { ...route, jigs, operations };
}

function withOperation(route: Route, e: Extract<RouteEdit, { what: 'add' }>): Route {
  const step = route.stageOf.steps.find((s) => s.id === e.step);
  if (!step)
    throw new InputError(
      'unknown-step',
      `The route has no coarse step called ${e.step}; choose one that it has.`,
      'step',
    );
  if (route.operations.some((o) => o.id === e.id))
    throw new InputError(
      'taken-id',
      `The route already has an operation called ${e.id}; give the new one another id.`,
      'id',
    );
  for (const id of [...e.after, ...e.before]) operationOf(route, id);
  const added: Operation = {
    id: e.id,
    kind: 'build',
    name: e.name,
    stage: step.stage,
    step: step.id,
    instruments: route.instruments,
    optional: false,
    gives: e.text,
    after: e.after,
    makes: [`own.${e.id}`],
    needs: [],
    usesUp: [],
    parts: [
      {
        what: e.text,
        at: e.at,
        minutes: e.minutes,
        // biome-ignore lint/suspicious/noThenProperty: a word of the route's file, never awaited
        then: 'stop',
        helperMin: 0,
        who: 'learner',
        batch: {
          scope: 'none',
          most: 1,
          setUpMin: 0,
          eachMin: e.minutes.likely,
          teacher: 'none',
          teacherMin: 0,
        },
      },
    ],
    jigs: [],
    settings: [],
    readings: [],
    good: e.text,
    faults: [],
    cautions: [],
    variants: {},
    source: "the teacher's own",
  };
  return {
    ...route,
    pieces: [
      ...route.pieces,
      { id: `own.${e.id}`, madeBy: e.id, text: e.text, instruments: route.instruments },
    ],
    stageOf: {
      ...route.stageOf,
      steps: route.stageOf.steps.map((s) =>
        s.id === step.id ? { ...s, operations: [...s.operations, e.id] } : s,
      ),
    },
    operations: [
      ...route.operations.map((o) => (e.before.includes(o.id) ? { ...o, after: [...o.after, e.id] } : o)),
      added,
    ],
  };
}
