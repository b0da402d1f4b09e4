import type { InstrumentId, Operation, Part, Route } from './route-types.ts';

/** Likely minutes after which a stretch of work must have a stopping place. */
export const longestStretchMin = 35;

/**
 * Checks a route against itself: order, pieces, stations, jigs, keys, age rules, stretches, rests, coarse steps.
 *
 * @param route  a route in the right form
 * @returns      one sentence for each fault, naming the operation; empty when there is none
 * @source       common practice, no published source
 */
export function routeFaults(route: Route): readonly string[] {
  const faults: string[] = [];
  const names = orderFaults(route, faults);
  if (faults.length > 0) return faults;
  pieceFaults(route, names, faults);
  placeFaults(route, faults);
  partFaults(route, faults);
  restFaults(route, names, faults);
  listFaults(route, faults);
  coarseFaults(route, names, faults);
  return faults;
}

/** Every operation that must be complete before an operation, by id. */
export type Ancestors = ReadonlyMap<string, ReadonlySet<string>>;

/**
 * For each operation: all operations before it, near and far.
 *
 * @param route  a route
 * @throws RangeError when an operation comes after itself; the ring is named in order
 * @source arithmetic
 */
export function ancestorsOf(route: Pick<Route, 'operations'>): Ancestors {
  const byId = new Map(route.operations.map((o) => [o.id, o]));
  const found = new Map<string, ReadonlySet<string>>();
  const open: string[] = [];
  const visit = (id: string): ReadonlySet<string> => {
    const known = found.get(id);
    if (known) return known;
    if (open.includes(id))
      throw new RangeError(
        `these operations wait for each other: ${[...open.slice(open.indexOf(id)), id].join(' -> ')}`,
      );
    open.push(id);
    const all = new Set<string>();
    for (const a of byId.get(id)?.after ?? []) {
      all.add(a);
      for (const b of visit(a)) all.add(b);
    }
    open.pop();
    found.set(id, all);
    return all;
  };
  for (const o of route.operations) visit(o.id);
  return found;
}

function orderFaults(route: Route, faults: string[]): Ancestors {
  const ids = new Set<string>();
  for (const o of route.operations) {
    if (ids.has(o.id)) faults.push(`two operations are called ${o.id}; give one another id`);
    ids.add(o.id);
  }
  for (const o of route.operations)
    for (const a of o.after)
      if (!ids.has(a)) faults.push(`${o.id} comes after ${a}, which is not in the route`);
  try {
    return ancestorsOf(route);
  } catch (error) {
    if (error instanceof RangeError) faults.push(error.message);
    else throw error;
    return new Map();
  }
}

function pieceFaults(route: Route, before: Ancestors, faults: string[]): void {
  const makers = new Map<string, Operation>();
  for (const o of route.operations)
    for (const m of o.makes) {
      const other = makers.get(m);
      if (other) faults.push(`${m} is made by both ${other.id} and ${o.id}`);
      makers.set(m, o);
    }
  for (const o of route.operations)
    for (const kind of o.instruments)
      for (const piece of o.needs) pieceFault(route, o, piece, kind, makers, before, faults);
  for (const p of route.pieces)
    if (!makers.get(p.id) || makers.get(p.id)?.id !== p.madeBy)
      faults.push(
        `the list of pieces says ${p.id} is made by ${p.madeBy}, but that operation does not make it`,
      );
}

function pieceFault(
  route: Route,
  o: Operation,
  piece: string,
  kind: InstrumentId,
  makers: ReadonlyMap<string, Operation>,
  before: Ancestors,
  faults: string[],
): void {
  const maker = makers.get(piece);
  if (!maker) {
    faults.push(`${o.id} needs ${piece}, which no operation makes`);
    return;
  }
  if (!maker.instruments.includes(kind)) return;
  if (!before.get(o.id)?.has(maker.id))
    faults.push(`${o.id} needs ${piece}, but ${maker.id}, which makes it, does not come before (${kind})`);
  for (const eater of route.operations)
    if (eater.id !== o.id && eater.usesUp.includes(piece) && !before.get(eater.id)?.has(o.id))
      faults.push(`${o.id} needs ${piece}, but ${eater.id} may already have used it up (${kind})`);
}

function placeFaults(route: Route, faults: string[]): void {
  const stations = new Map(route.stations.map((s) => [s.id, s]));
  const keys = new Set(route.keys.map((k) => k.id));
  const jigs = new Set(route.jigs.map((j) => j.id));
  const ops = new Set(route.operations.map((o) => o.id));
  const tools = new Set(route.measuringTools.map((t) => t.id));
  for (const s of route.stations) {
    if (!keys.has(s.key)) faults.push(`station ${s.id} asks for the key ${s.key}, which is not in the list`);
    if (isFreeKey(s.key)) continue;
    if (s.protect.length === 0) faults.push(`station ${s.id} has a key but names no protection`);
    if (s.cautions.length === 0) faults.push(`station ${s.id} has a key but names no caution`);
    if (s.without.how === 'none') faults.push(`station ${s.id} has a key but no way without it`);
    if (!route.ageRules.byStation[s.id]) faults.push(`station ${s.id} has a key but no age rule`);
  }
  for (const k of route.keys)
    if (!isFreeKey(k.id) && k.id !== 'teacher-only' && !ops.has(k.checkedBy ?? ''))
      faults.push(`key ${k.id} names no key check`);
  for (const s of Object.keys(route.ageRules.byStation))
    if (!stations.has(s)) faults.push(`an age rule names the station ${s}, which is not in the list`);
  for (const o of route.operations) {
    for (const j of o.jigs)
      if (!jigs.has(j)) faults.push(`${o.id} uses the jig ${j}, which is not in the list`);
    for (const r of o.readings)
      if (r.toolId !== undefined && !tools.has(r.toolId))
        faults.push(`reading ${r.id} names the tool ${r.toolId}, which is not in the list`);
    for (const p of o.parts)
      for (const at of p.at) {
        const s = stations.get(at);
        if (!s) faults.push(`${o.id} is done at ${at}, which is not in the list of stations`);
        else if (s.teacherOnly && p.who === 'learner') faults.push(`${o.id} sends a learner to ${at}`);
      }
  }
}

/** Keys everybody has: none, and the bench (given with the induction). */
export function isFreeKey(key: string): boolean {
  return key === 'none' || key === 'hand';
}

function partFaults(route: Route, faults: string[]): void {
  for (const o of route.operations) {
    let stretchMin = 0;
    o.parts.forEach((p: Part, i) => {
      const m = p.minutes;
      if (!(m.low <= m.likely && m.likely <= m.high))
        faults.push(`${o.id}: the minutes of part ${i + 1} are not in order`);
      stretchMin += m.likely;
      if (stretchMin > longestStretchMin)
        faults.push(
          `${o.id}: ${stretchMin} likely minutes without a stopping place, ${longestStretchMin} at most`,
        );
      if (p.then !== 'go on') stretchMin = 0;
      const last = i === o.parts.length - 1;
      if (p.then === 'glue' && !last && !p.rest && !p.repeat)
        faults.push(`${o.id}: part ${i + 1} rests, but no rest is given`);
      if (p.then === 'glue' && last && !o.rest)
        faults.push(`${o.id}: the last part rests, but the operation has no rest`);
      if (p.batch.scope === 'none' && p.batch.eachMin !== m.likely)
        faults.push(
          `${o.id}: part ${i + 1} is done alone, but its minutes a member are not the likely minutes`,
        );
    });
  }
}

function restFaults(route: Route, before: Ancestors, faults: string[]): void {
  const stations = new Set(route.stations.map((s) => s.id));
  for (const o of route.operations) {
    const holds = [...o.parts.flatMap((p) => p.rest?.holds ?? []), ...(o.rest?.holds ?? [])];
    for (const h of holds) {
      if (!stations.has(h.what)) faults.push(`${o.id}: a rest holds ${h.what}, which is not in the list`);
      if (h.leastH > h.usualH) faults.push(`${o.id}: the rest in ${h.what} is longer at least than usually`);
    }
    for (const b of o.rest?.before ?? [])
      if (!before.get(b.op)?.has(o.id))
        faults.push(`${o.id}: rests before ${b.op}, which does not follow it`);
  }
}

function listFaults(route: Route, faults: string[]): void {
  const ops = new Set(route.operations.map((o) => o.id));
  const named: readonly (readonly [string, readonly string[]])[] = [
    ['room holds', route.roomHolds.operations],
    ['hold points', route.holdPoints.map((h) => h.op)],
    ['demonstrations', route.demonstrations.flatMap((d) => d.ops)],
    ['freeze points', route.freezePoints.flatMap((f) => f.lastChangeBefore)],
    ['choices', route.choices.flatMap((c) => [...c.skip, ...Object.keys(c.likelyMin)])],
    [
      'long holds',
      route.longHolds.flatMap((h) => [h.fromOp, h.untilRestOf ?? h.fromOp, h.untilStartOf ?? h.fromOp]),
    ],
  ];
  for (const [list, ids] of named)
    for (const id of ids) if (!ops.has(id)) faults.push(`the ${list} name ${id}, which is not in the route`);
  const readings = new Set<string>();
  for (const o of route.operations)
    for (const r of o.readings) {
      if (readings.has(r.id)) faults.push(`two readings are called ${r.id}`);
      readings.add(r.id);
    }
}

function coarseFaults(route: Route, before: Ancestors, faults: string[]): void {
  const where = new Map<string, string>();
  const stages = new Set(route.stageOf.stages.map((s) => s.id));
  for (const s of route.stageOf.steps) {
    if (!stages.has(s.stage))
      faults.push(`coarse step ${s.id} is in the stage ${s.stage}, which is not in the list`);
    for (const op of s.operations) {
      if (where.has(op)) faults.push(`${op} stands in two coarse steps`);
      where.set(op, s.id);
    }
  }
  for (const o of route.operations)
    if (o.kind === 'build' && !where.has(o.id)) faults.push(`${o.id} stands in no coarse step`);
  const waits = new Map<string, Set<string>>();
  for (const s of route.stageOf.steps) {
    const on = s.operations.flatMap((x) => [...(before.get(x) ?? [])]).flatMap((a) => where.get(a) ?? []);
    waits.set(s.id, new Set(on.filter((t) => t !== s.id)));
  }
  for (const [s, on] of waits)
    for (const t of on)
      if (waits.get(t)?.has(s) && s < t) faults.push(`the coarse steps ${s} and ${t} wait for each other`);
}

/** All ids of figures a route names: limits, nominals, scrap limits, settings, replaced figures. */
export function figureIdsOf(route: Route): ReadonlySet<string> {
  const ids = new Set<string>();
  const add = (v: unknown): void => {
    if (typeof v === 'string') ids.add(v);
  };
  for (const o of route.operations) {
    for (const s of o.settings) for (const f of s.figures) ids.add(f);
    for (const r of o.readings) {
      for (const l of [r.limits, r.softLimits])
        if (l) for (const v of [l.of, l.minus, l.plus, l.low, l.high]) add(v);
      add(r.nominal);
      add(r.scrapLimit);
      add(r.replaces);
    }
  }
  return ids;
}

/**
 * Checks that every figure a route names exists.
 *
 * @param route  a route
 * @param known  whether a figure of that id exists; ids beginning with `shop.` come from the record and always exist
 * @returns      one sentence for each figure that does not
 * @source       arithmetic
 */
export function unknownFigures(route: Route, known: (id: string) => boolean): readonly string[] {
  return [...figureIdsOf(route)]
    .filter((id) => !id.startsWith('shop.') && !known(id))
    .map((id) => `the route names the figure ${id}, which does not exist`);
}
