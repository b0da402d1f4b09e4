import { InputError } from '../quantity/input-error.ts';
import type {
  Batch,
  Finish,
  Hold,
  Hours,
  InstrumentId,
  Minutes,
  Operation,
  Part,
  Route,
} from './route-types.ts';

/** What one instrument of a course asks of the route. */
export interface RouteWish {
  readonly instrument: InstrumentId;
  /** Ids of `choices` of the route, e.g. `plain`. */
  readonly choices?: readonly string[];
  /** Single operations left out. */
  readonly skip?: readonly string[];
  /** Id of a finish; without one the minutes and rests of the route stand. */
  readonly finish?: string;
}

/** A part as it will be done: scaled minutes, repeats unrolled. */
export interface PlannedPart {
  /** `1`, `2`, ... or `2.3` for the third time of a repeated part. */
  readonly id: string;
  readonly what: string;
  readonly at: readonly string[];
  readonly minutes: Minutes;
  readonly then: Part['then'];
  readonly helperMin: number;
  readonly who: Part['who'];
  readonly batch: Batch;
  readonly inPrep: boolean;
  /** Rest after this part and before the next part of the same operation. */
  readonly rest?: Hours;
  readonly holds: readonly Hold[];
}

/** What must be complete before, and how long it must have rested toward this operation. */
export interface Link extends Hours {
  readonly from: string;
}

export interface PlannedOperation {
  readonly op: Operation;
  readonly parts: readonly PlannedPart[];
  readonly before: readonly Link[];
  readonly next: readonly string[];
  /** Sum of the likely minutes. */
  readonly likelyMin: number;
  /** Likely minutes and usual rests from here to the end, along the longest chain. */
  readonly chainMin: number;
  /** The instrument's own remark. */
  readonly remark?: string;
}

export interface PlannedRoute {
  readonly instrument: InstrumentId;
  /** Each after everything it waits for. */
  readonly operations: readonly PlannedOperation[];
  readonly byId: ReadonlyMap<string, PlannedOperation>;
  readonly likelyMin: number;
}

/**
 * The route of one instrument: operations not made for it, or left out, hand their predecessors on; minutes and rests
 * follow the instrument, the choices of the course and the finish.
 *
 * @param route  a checked route
 * @param wish   instrument, choices, finish
 * @returns      operations in an order that respects all rests
 * @throws InputError when a choice, an operation or the finish is not in the route
 * @source       common practice, no published source
 */
export function planRoute(route: Route, wish: RouteWish): PlannedRoute {
  const { left, likelyMin, prepOps, dropped } = readChoices(route, wish);
  const finish = readFinish(route, wish.finish);
  const made = (o: Operation): boolean =>
    o.kind === 'build' && o.instruments.includes(wish.instrument) && !left.has(o.id);
  const byId = new Map(route.operations.map((o) => [o.id, o]));
  const planned = new Map<string, Omit<PlannedOperation, 'next' | 'chainMin'>>();
  for (const o of inOrder(route.operations.filter(made), (op) => links(op, byId, made).map((l) => l.from))) {
    const fitted = fitFinish(o, finish);
    const wanted = wantedMin(fitted, wish.instrument, likelyMin, finish);
    const parts = plannedParts(fitted, wanted, finish, prepOps.has(o.id), (n) => dropped.has(`${o.id}.${n}`));
    const remark = o.variants[wish.instrument]?.text;
    planned.set(o.id, {
      op: fitted,
      parts,
      before: links(o, byId, made, finish),
      likelyMin: parts.reduce((sum, p) => sum + p.minutes.likely, 0),
      ...(remark === undefined ? {} : { remark }),
    });
  }
  return withChains(wish.instrument, planned);
}

function readChoices(route: Route, wish: RouteWish) {
  const left = new Set<string>();
  const likelyMin = new Map<string, number>();
  const prepOps = new Set<string>();
  const dropped = new Set<string>();
  for (const id of wish.choices ?? []) {
    const c = route.choices.find((x) => x.id === id);
    if (!c)
      throw new InputError(
        'unknown-choice',
        `The route has no choice called ${id}; it has ${list(route.choices)}.`,
        'choices',
      );
    for (const op of c.skip) left.add(op);
    for (const [op, min] of Object.entries(c.likelyMin)) likelyMin.set(op, min);
    for (const op of Object.keys(c.inPrep ?? {})) prepOps.add(op);
    for (const d of c.dropParts ?? []) dropped.add(`${d.op}.${d.part}`);
  }
  for (const op of wish.skip ?? []) {
    if (!route.operations.some((o) => o.id === op))
      throw new InputError(
        'unknown-operation',
        `The route has no operation called ${op}; leave out one that it has.`,
        'skip',
      );
    left.add(op);
  }
  return { left, likelyMin, prepOps, dropped };
}

function readFinish(route: Route, id: string | undefined): Finish | undefined {
  if (id === undefined) return undefined;
  const f = route.finishes.find((x) => x.id === id);
  if (!f)
    throw new InputError(
      'unknown-finish',
      `The route has no finish called ${id}; it has ${list(route.finishes)}.`,
      'finish',
    );
  return f;
}

function list(items: readonly { readonly id: string }[]): string {
  return items.map((x) => x.id).join(', ');
}

/** Operations in an order in which each follows all it waits for; ties keep the order of the route. */
function inOrder(
  ops: readonly Operation[],
  before: (o: Operation) => readonly string[],
): readonly Operation[] {
  const byId = new Map(ops.map((o) => [o.id, o]));
  const done = new Set<string>();
  const order: Operation[] = [];
  const visit = (o: Operation): void => {
    if (done.has(o.id)) return;
    done.add(o.id);
    for (const id of before(o)) {
      const b = byId.get(id);
      if (b) visit(b);
    }
    order.push(o);
  };
  for (const o of ops) visit(o);
  return order;
}

/** Predecessors through operations that are not made; the nearest made ones stand in for them. */
function links(
  o: Operation,
  byId: ReadonlyMap<string, Operation>,
  made: (o: Operation) => boolean,
  finish?: Finish,
): readonly Link[] {
  const found = new Map<string, Link>();
  const visit = (id: string, seen: ReadonlySet<string>): void => {
    const a = byId.get(id);
    if (!a || seen.has(id)) return;
    if (!made(a)) {
      for (const b of a.after) visit(b, new Set([...seen, id]));
      return;
    }
    found.set(id, { from: id, ...restToward(fitFinish(a, finish), o.id) });
  };
  for (const a of o.after) visit(a, new Set());
  // A rest may be named toward an operation that is not the next one: a joined plate leaves its frame soon, but is sanded late.
  for (const a of byId.values())
    if (a.rest && !found.has(a.id) && made(a) && a.rest.before.some((b) => b.op === o.id))
      found.set(a.id, { from: a.id, ...restToward(fitFinish(a, finish), o.id) });
  return [...found.values()];
}

function restToward(a: Operation, next: string): Hours {
  const own = a.rest?.before.find((b) => b.op === next);
  if (own) return { leastH: own.leastH, usualH: own.usualH };
  return a.rest ? a.rest.beforeOthers : { leastH: 0, usualH: 0 };
}

/** The cure of the finish chosen stands in for the one of the route. */
function fitFinish(o: Operation, finish: Finish | undefined): Operation {
  if (!finish || !o.rest || o.rest.kind !== 'cure') return o;
  const hours = { leastH: finish.cureH[0] as number, usualH: finish.cureH.at(-1) as number };
  return {
    ...o,
    rest: { ...o.rest, holds: o.rest.holds.map((h) => ({ ...h, ...hours })), beforeOthers: hours },
  };
}

function wantedMin(
  o: Operation,
  instrument: InstrumentId,
  chosen: ReadonlyMap<string, number>,
  finish: Finish | undefined,
): number | undefined {
  const own = chosen.get(o.id);
  if (own !== undefined) return own;
  if (finish && o.makes.includes('film.polished')) return finish.polishMin;
  return o.variants[instrument]?.likelyMin;
}

function plannedParts(
  o: Operation,
  wanted: number | undefined,
  finish: Finish | undefined,
  inPrep: boolean,
  isDropped: (part: number) => boolean,
): readonly PlannedPart[] {
  const total = o.parts.reduce((sum, p) => sum + p.minutes.likely, 0);
  const factor = wanted === undefined ? 1 : wanted / total;
  const last = o.parts.length - 1;
  return o.parts.flatMap((p, i) => {
    if (isDropped(i + 1) || isFilling(o, i, finish)) return [];
    const times = p.repeat ? Math.max(0, finish ? (finish.coats[1] as number) - 1 : p.repeat.usualTimes) : 1;
    return Array.from({ length: times }, (_, k) =>
      plannedPart(o, p, i, k, {
        factor,
        finish,
        inPrep: inPrep || p.prep?.usual === true,
        isLast: i === last && k === times - 1,
      }),
    );
  });
}

/** Pores are filled only under a finish that wants it. */
function isFilling(o: Operation, index: number, finish: Finish | undefined): boolean {
  return finish !== undefined && !finish.fillPores && o.id === 'P2' && index === 1;
}

function plannedPart(
  o: Operation,
  p: Part,
  index: number,
  round: number,
  how: { factor: number; finish: Finish | undefined; inPrep: boolean; isLast: boolean },
): PlannedPart {
  const coat = how.finish !== undefined && o.rest?.kind === 'cure';
  const between = coat
    ? { leastH: how.finish?.betweenH[0] as number, usualH: how.finish?.betweenH.at(-1) as number }
    : undefined;
  const factor = coat ? (how.finish?.minEach as number) / p.minutes.likely : how.factor;
  const rest = how.isLast ? undefined : (between ?? (p.repeat ? p.repeat.rest : p.rest));
  const holds = how.isLast
    ? (o.rest?.holds ?? [])
    : (p.rest?.holds ?? []).map((h) => ({ ...h, ...(between ?? {}) }));
  return {
    id: round === 0 ? String(index + 1) : `${index + 1}.${round + 1}`,
    what: p.what,
    at: p.at,
    minutes: scale(p.minutes, factor),
    // biome-ignore lint/suspicious/noThenProperty: a word of the route's file, never awaited
    then: p.then,
    helperMin: Math.round(p.helperMin * factor),
    who: p.who,
    batch: { ...p.batch, eachMin: Math.round(p.batch.eachMin * factor * 2) / 2 },
    inPrep: how.inPrep,
    holds,
    ...(rest ? { rest: { leastH: rest.leastH, usualH: rest.usualH } } : {}),
  };
}

function scale(m: Minutes, factor: number): Minutes {
  if (factor === 1) return m;
  const one = (min: number): number => Math.max(1, Math.round(min * factor));
  return { low: one(m.low), likely: one(m.likely), high: one(m.high) };
}

function withChains(
  instrument: InstrumentId,
  planned: ReadonlyMap<string, Omit<PlannedOperation, 'next' | 'chainMin'>>,
): PlannedRoute {
  const next = new Map<string, { id: string; usualH: number }[]>();
  for (const [id, p] of planned)
    for (const l of p.before) next.set(l.from, [...(next.get(l.from) ?? []), { id, usualH: l.usualH }]);
  const chain = new Map<string, number>();
  for (const [id, p] of [...planned].reverse()) {
    const inner = p.parts.reduce((sum, x) => sum + (x.rest?.usualH ?? 0) * 60, 0);
    const after = (next.get(id) ?? []).map((n) => n.usualH * 60 + (chain.get(n.id) ?? 0));
    chain.set(id, p.likelyMin + inner + Math.max(0, ...after));
  }
  const operations = [...planned].map(([id, p]) => ({
    ...p,
    next: (next.get(id) ?? []).map((n) => n.id),
    chainMin: chain.get(id) as number,
  }));
  return {
    instrument,
    operations,
    byId: new Map(operations.map((p) => [p.op.id, p])),
    likelyMin: operations.reduce((sum, p) => sum + p.likelyMin, 0),
  };
}
