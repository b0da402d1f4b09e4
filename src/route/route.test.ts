import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { judge } from '../graph/rule.ts';
import { InputError } from '../quantity/input-error.ts';
import { limitsOf } from './limits.ts';
import { nominalFigures } from './nominal-figures.fixture.ts';
import { planRoute } from './planned-route.ts';
import { ownRoute, readRoute } from './route.ts';
import {
  ancestorsOf,
  figureIdsOf,
  isFreeKey,
  longestStretchMin,
  routeFaults,
  unknownFigures,
} from './route-check.ts';
import { type InstrumentId, instrumentIds, type Operation, type Route } from './route-types.ts';

const route = ownRoute();
const practice = 'common practice, no published source';

function changed(id: string, change: (o: Operation) => Operation): Route {
  return { ...route, operations: route.operations.map((o) => (o.id === id ? change(o) : o)) };
}

function figureOf(kind: InstrumentId): (id: string) => number | undefined {
  return (id) => nominalFigures[id]?.[instrumentIds.indexOf(kind)];
}

describe('the route that comes with the product', () => {
  it('has no fault of order, piece, station, jig, key, tool, rest or coarse step', () => {
    expect(routeFaults(route)).toEqual([]);
    expect(route.operations.length).toBe(105);
    expect(route.stageOf.stages.length).toBe(11);
    expect(route.stageOf.steps.length).toBe(28);
  });

  it('proves every needed piece in order: whatever needs it comes after what makes it', () => {
    const before = ancestorsOf(route);
    const makers = new Map(route.operations.flatMap((o) => o.makes.map((m) => [m, o] as const)));
    let proved = 0;
    for (const o of route.operations)
      for (const kind of o.instruments)
        for (const piece of o.needs) {
          const maker = makers.get(piece) as Operation;
          if (!maker.instruments.includes(kind)) continue;
          expect(before.get(o.id)?.has(maker.id), `${o.id} needs ${piece} (${kind})`).toBe(true);
          proved++;
        }
    expect(proved).toBeGreaterThan(300);
  });

  it('says what is good, dangerous and wrong at each step in full: no step is sent to the code of another', () => {
    const codes = new Set(route.operations.map((o) => o.id));
    const said = route.operations.flatMap((o) => [
      [o.id, o.good] as const,
      ...o.cautions.map((c) => [o.id, c] as const),
      ...o.faults.flatMap((f) => [f.fault, f.cause, f.rescue, f.scrapLimit].map((t) => [o.id, t] as const)),
    ]);
    expect(said.length).toBeGreaterThan(300);
    const coded = said.filter(([, text]) =>
      text?.match(/\b[A-Z]{1,2}\d+[a-d]?\b/g)?.some((c) => codes.has(c)),
    );
    expect(coded).toEqual([]);
  });

  it('asks readings whose limits hold at their own nominal for all three patterns', () => {
    let judged = 0;
    for (const o of route.operations)
      for (const r of o.readings)
        for (const kind of r.instruments ?? o.instruments) {
          const l = limitsOf(r, kind, figureOf(kind));
          if (l.nominal === undefined) continue;
          expect(judge(l.nominal, l.hard), `${r.id} ${r.name} (${kind})`).toBe('met');
          judged++;
        }
    expect(judged).toBeGreaterThan(450);
  });

  it('keeps the low limit of a thickness at or above its scrap limit', () => {
    let seen = 0;
    for (const o of route.operations)
      for (const r of o.readings)
        for (const kind of o.instruments) {
          const l = limitsOf(r, kind, figureOf(kind));
          if (l.scrapLimit === undefined) continue;
          expect(l.hard.low, r.id).toBeGreaterThanOrEqual(l.scrapLimit);
          seen++;
        }
    expect(seen).toBe(12);
  });

  it('names no figure that does not exist', () => {
    expect(unknownFigures(route, (id) => id === 'top.thickness.final')).not.toEqual([]);
    expect(figureIdsOf(route).has('top.thickness.final')).toBe(true);
  });

  it('has a stopping place after at most 35 likely minutes', () => {
    let stretches = 0;
    for (const o of route.operations) {
      let stretchMin = 0;
      for (const p of o.parts) {
        stretchMin += p.minutes.likely;
        expect(stretchMin, o.id).toBeLessThanOrEqual(longestStretchMin);
        if (p.then !== 'go on') {
          stretchMin = 0;
          stretches++;
        }
      }
    }
    expect(stretches).toBeGreaterThan(170);
  });

  it('gives protection, cautions, an age rule and a way without it at every powered, hot or solvent station', () => {
    const keyed = route.stations.filter((s) => !isFreeKey(s.key));
    expect(keyed.length).toBe(19);
    for (const s of keyed) {
      expect(s.protect, s.id).toContain('eyes');
      expect(s.cautions.length, s.id).toBeGreaterThan(0);
      expect(['hand', 'teacher'], s.id).toContain(s.without.how);
      expect(route.ageRules.byStation[s.id], s.id).toBeDefined();
    }
    for (const o of route.operations)
      for (const p of o.parts)
        for (const at of p.at) {
          const s = route.stations.find((x) => x.id === at);
          if (s && s.key !== 'none') expect(s.protect.length, `${o.id} at ${at}`).toBeGreaterThan(0);
        }
  });

  it('starts from: under 16 no jointer, table saw, thickness sander or unguarded router', () => {
    for (const s of ['jointer', 'table-saw', 'thickness-sander', 'router-table', 'router-bench'])
      expect(['teacher does it', 'never'], s).toContain(route.ageRules.byStation[s]?.under16);
    expect(route.ageRules.mark).toMatch(/common practice.*your school's rule decides/);
  });

  it('asks only a few readings: figure and hold; the rest waits behind "more"', () => {
    const needs = route.operations.flatMap((o) => o.readings.map((r) => r.need));
    expect(needs.filter((n) => n !== 'may').length).toBeLessThan(needs.length / 3);
  });
});

describe('planRoute', () => {
  it('hands the predecessors of an operation that is not made on to what follows', () => {
    const nylon = planRoute(route, { instrument: 'nylon' });
    expect(nylon.byId.has('R5')).toBe(false);
    expect(
      nylon.byId
        .get('R6')
        ?.before.map((l) => l.from)
        .sort(),
    ).toEqual(['R2', 'R3', 'R4']);
    const plain = planRoute(route, { instrument: 'steel', choices: ['plain'] });
    expect(plain.byId.get('X10')?.before.map((l) => l.from)).toEqual(['X6']);
  });

  it('keeps a rest toward an operation that is not the next one', () => {
    const steel = planRoute(route, { instrument: 'steel' });
    expect(steel.byId.get('T3')?.before).toEqual([{ from: 'T2', leastH: 0.5, usualH: 1 }]);
    expect(steel.byId.get('T4')?.before).toContainEqual({ from: 'T2', leastH: 12, usualH: 24 });
    expect(
      steel.byId
        .get('R9')
        ?.before.map((l) => l.from)
        .sort(),
    ).toEqual(['R6', 'R7', 'R8']);
  });

  it('comes to the hours of one learner alone', () => {
    const hours = (instrument: InstrumentId) => planRoute(route, { instrument }).likelyMin / 60;
    expectClose(hours('steel'), 67.2, { tol: 1.1, source: 'from memory' });
    expectClose(hours('nylon'), 65.7, { tol: 1.1, source: 'from memory' });
    expectClose(hours('uke'), 50.6, { tol: 1.1, source: 'from memory' });
  });

  it('has its longest chain through the top, with the film and the settling of the wood in it', () => {
    const steel = planRoute(route, { instrument: 'steel' });
    const chainDays = Math.max(...steel.operations.map((o) => o.chainMin)) / 60 / 24;
    // 57.8 days of usual rests and work, hands-on 35 h of it counted round the clock
    expectClose(chainDays, 57.8, { tol: 2, source: practice });
  });

  it('puts every operation after what it waits for', () => {
    for (const instrument of instrumentIds) {
      const place = new Map(planRoute(route, { instrument }).operations.map((o, i) => [o.op.id, i]));
      for (const o of planRoute(route, { instrument }).operations)
        for (const l of o.before) expect(place.get(l.from)).toBeLessThan(place.get(o.op.id) as number);
    }
  });

  it('takes coats, minutes and cure from the finish', () => {
    const oil = planRoute(route, { instrument: 'uke', finish: 'oil' });
    expect(oil.byId.get('P3')?.parts.map((p) => p.id)).toEqual(['1', '2', '2.2']);
    expect(oil.byId.get('P4')?.before[0]).toMatchObject({ from: 'P3', leastH: 72, usualH: 168 });
    const sprayed = planRoute(route, { instrument: 'uke', finish: 'solvent-sprayed' });
    expect(sprayed.byId.get('P3')?.parts.length).toBe(8);
    expect(sprayed.byId.get('P2')?.parts.length).toBe((oil.byId.get('P2')?.parts.length as number) + 1);
  });

  it('refuses a choice, a finish and an operation it does not know', () => {
    expect(() => planRoute(route, { instrument: 'steel', choices: ['fancy'] })).toThrow(InputError);
    expect(() => planRoute(route, { instrument: 'steel', finish: 'tar' })).toThrow(/oil, wipe-on/);
    expect(() => planRoute(route, { instrument: 'steel', skip: ['Q1'] })).toThrow(InputError);
  });
});

describe('readRoute', () => {
  const json = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

  it('reads back what it wrote', () => {
    expect(readRoute(json(route))).toEqual(route);
  });

  it('names the place that is not in the form', () => {
    const bad = json(changed('T10', (o) => ({ ...o, good: 3 as unknown as string })));
    expect(() => readRoute(bad)).toThrow(/operations\.T10\.good is 3, wanted is a string/);
    expect(() => readRoute({ ...route, format: 'other/1' })).toThrow(/format is "other\/1"/);
    expect(() => readRoute({ ...route, extra: 1 })).toThrow(/extra is 1, wanted is no such member/);
    expect(() => readRoute(null)).toThrow(InputError);
  });

  it('names operations that wait for each other, in order', () => {
    expect(() => readRoute(changed('T1', (o) => ({ ...o, after: [...o.after, 'T4'] })))).toThrow(
      /T1 -> T4 -> T3 -> T2 -> T1/,
    );
  });

  it('refuses a piece that is needed too early or already used up', () => {
    expect(() => readRoute(changed('T12', (o) => ({ ...o, needs: [...o.needs, 'top.sawn'] })))).toThrow(
      /T12 needs top.sawn, but T13, which makes it, does not come before/,
    );
    const traceLast = changed('T12', (o) => ({ ...o, after: ['T11'] }));
    const swapped = {
      ...traceLast,
      operations: traceLast.operations.map((o) => (o.id === 'T11' ? { ...o, after: ['T10'] } : o)),
    };
    expect(() => readRoute(swapped)).toThrow(/T12 needs top.pilot, but T11 may already have used it up/);
  });

  it('refuses unknown stations, jigs, keys and tools', () => {
    expect(() => readRoute(changed('T6', (o) => ({ ...o, jigs: ['magic'] })))).toThrow(
      /T6 uses the jig magic/,
    );
    expect(() =>
      readRoute(changed('T6', (o) => ({ ...o, parts: o.parts.map((p) => ({ ...p, at: ['moon'] })) }))),
    ).toThrow(/T6 is done at moon/);
    const keyless = {
      ...route,
      stations: route.stations.map((s) => (s.id === 'bandsaw' ? { ...s, key: 'gold' } : s)),
    };
    expect(() => readRoute(keyless)).toThrow(/station bandsaw asks for the key gold/);
    const bare = {
      ...route,
      stations: route.stations.map((s) => (s.id === 'bandsaw' ? { ...s, protect: [] } : s)),
    };
    expect(() => readRoute(bare)).toThrow(/bandsaw has a key but names no protection/);
    const spaceTool = changed('T6', (o) => ({
      ...o,
      readings: o.readings.map((r) => ({ ...r, toolId: 'laser' })),
    }));
    expect(() => readRoute(spaceTool)).toThrow(/names the tool laser/);
  });

  it('refuses a stretch without a stopping place and a rest out of order', () => {
    const long = changed('T6', (o) => ({
      ...o,
      parts: o.parts.map((p) => ({
        ...p,
        minutes: { low: 30, likely: 50, high: 60 },
        batch: { ...p.batch, eachMin: 50 },
      })),
    }));
    expect(() => readRoute(long)).toThrow(/T6: 50 likely minutes without a stopping place/);
    const t2 = route.operations.find((o) => o.id === 'T2')?.rest as NonNullable<Operation['rest']>;
    const rest = changed('T2', (o) => ({
      ...o,
      rest: { ...t2, before: [{ op: 'T1', leastH: 1, usualH: 2 }] },
    }));
    expect(() => readRoute(rest)).toThrow(/T2: rests before T1, which does not follow it/);
  });
});
