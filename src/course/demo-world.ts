import { makeRandom, type Random } from '../numeric/random.ts';
import { DAY_MS, HOUR_MS, MINUTE_MS } from '../quantity/time.ts';
import { limitsOf } from '../route/limits.ts';
import type { PlannedPart } from '../route/planned-route.ts';
import type { Operation, Reading } from '../route/route-types.ts';
import { type BuildFacts, buildReducer } from './build-facts.ts';
import { type ClassState, classState, type PersonFacts, planOf } from './class-state.ts';
import { preparations } from './closing.ts';
import { type CourseFacts, courseReducer } from './course-facts.ts';
import { demoPeople } from './demo-people.ts';
import { asRead, demoNames, jigOfReading, madeUpNumber, sanderProof } from './demo-readings.ts';
import { type DemoWish, demoHeldCount, demoStartMs } from './demo-wish.ts';
import { type EventDraft, makeEvent, type RecordEvent, type Recorder } from './event.ts';
import { addEvents, type FoldState, foldEvents } from './fold.ts';
import { releases } from './occupancy.ts';
import { planFormat } from './plan-text.ts';
import { progressOf } from './progress.ts';
import { judgeNumber } from './reading-verdict.ts';
import { type ShopFacts, shopReducer } from './shop-facts.ts';
import { type Look, lookAround, type Offer, plainSteps } from './what-next.ts';

const sessionMin = 150;
const sessionCount = 30;
const heldCount = demoHeldCount;
const names = demoNames;
/** The learner who misses evenings, the left-handed one, the one whose plate came out thin. */
const behindIndex = 4;
const leftIndex = 7;
const thinIndex = 2;
/** Finished thickness the sander left on that plate, mm. */
const thinPlateMm = 2.58;

/** The invented workshop while it is being made; nothing of it is kept. */
export class DemoWorld {
  readonly course = 'demo';
  readonly shop = 'main';
  readonly events: RecordEvent[] = [];
  readonly people: PersonFacts[];
  private readonly random: Random;
  private recorder: Recorder = { device: 'demo-tablet', counter: 0, lastTimeMs: 0 };
  private builds = new Map<string, FoldState<BuildFacts>>();
  private courseState: FoldState<CourseFacts>;
  private shopState: FoldState<ShopFacts>;
  private readonly firstMs: number;

  constructor(private readonly wish: DemoWish) {
    this.random = makeRandom(wish.seed);
    this.firstMs = demoStartMs(wish.nowMs, wish.utcOffsetMin) - heldCount * 7 * DAY_MS;
    this.courseState = foldEvents(courseReducer, []);
    this.shopState = foldEvents(shopReducer, []);
    this.people = demoPeople();
  }

  session(k: number): { readonly session: string; readonly startMs: number; readonly endMs: number } {
    const startMs = this.firstMs + k * 7 * DAY_MS;
    return { session: `evening-${k + 1}`, startMs, endMs: startMs + sessionMin * MINUTE_MS };
  }

  private say(stream: EventDraft['stream'], kind: string, body: object, atMs: number, by = 'teacher'): void {
    const bytes = Uint8Array.from({ length: 16 }, () => this.random.below(256));
    // Devices write late at times but never before something they have seen.
    const made = makeEvent(this.recorder, { stream, kind, by, body }, atMs, bytes);
    this.recorder = made.recorder;
    this.events.push(made.event);
    if (stream.startsWith('build:')) {
      const id = stream.slice('build:'.length);
      this.builds.set(
        id,
        addEvents(buildReducer, this.builds.get(id) ?? foldEvents(buildReducer, []), [made.event]),
      );
    } else if (stream.startsWith('course:'))
      this.courseState = addEvents(courseReducer, this.courseState, [made.event]);
    else this.shopState = addEvents(shopReducer, this.shopState, [made.event]);
  }

  private sayBuild(build: string, kind: string, body: object, atMs: number, by?: string): void {
    this.say(`build:${build}`, kind, body, atMs, by);
  }

  private sayShop(kind: string, body: object, atMs: number): void {
    this.say(`shop:${this.shop}`, kind, body, atMs);
  }

  private sayCourse(kind: string, body: object, atMs: number): void {
    this.say(`course:${this.course}`, kind, body, atMs);
  }

  state(): ClassState {
    return classState({
      route: this.wish.route,
      course: this.courseState.facts,
      builds: new Map([...this.builds].map(([id, s]) => [id, s.facts])),
      shop: this.shopState.facts,
      people: this.people,
    });
  }

  setUp(): void {
    const atMs = this.firstMs - 21 * DAY_MS;
    const { pattern, shop } = this.wish;
    if (shop) this.sayShop('revision-made', { what: 'shop', ...shop }, atMs);
    this.sayShop('key-given', { person: 'p9', key: 'bandsaw', atMs: this.wish.nowMs - 355 * DAY_MS }, atMs);
    this.sayShop('station-proved', sanderProof, atMs);
    this.sayCourse(
      'course-set-up',
      {
        name: 'Evening class (Demo)',
        pattern: pattern.revision,
        choices: ['plain'],
        finish: 'wipe-on',
        units: 'mm',
        demo: true,
        sessions: Array.from({ length: sessionCount }, (_, k) => this.session(k)),
      },
      atMs,
    );
    this.sayCourse('revision-made', { what: 'pattern', ...pattern }, atMs);
    this.sayCourse('helper-added', { person: 'helper' }, atMs);
    names.forEach((_, i) => {
      const build = `b${i + 1}`;
      this.sayCourse('learner-added', { person: `p${i + 1}`, build, number: i + 1 }, atMs);
      this.sayBuild(
        build,
        'build-set-up',
        {
          course: this.course,
          person: `p${i + 1}`,
          instrument: this.wish.instrument,
          pattern: pattern.revision,
          handed: i === leftIndex ? 'left' : 'right',
          choices: ['plain'],
          finish: 'wipe-on',
        },
        atMs,
      );
      this.sayBuild(build, 'step-done', { op: 'A4', part: '1' }, atMs);
      this.sayBuild(
        build,
        'put-in-clamps',
        { op: 'A4', part: '1', holds: [{ what: 'conditioning-rack', leastH: 72, usualH: 336 }] },
        atMs,
      );
    });
  }

  /** The afternoon before a session: clamps released, blanks and coats made. `isMorning` only releases. */
  prepare(k: number, isMorning = false): void {
    const atMs = isMorning ? this.session(k).startMs + 14 * HOUR_MS : this.session(k).startMs - 3 * HOUR_MS;
    this.releaseRested(atMs);
    if (isMorning) return;
    for (let round = 0; round < 3; round++) {
      let made = 0;
      for (const p of preparations(this.state(), atMs))
        for (const build of p.builds) {
          const part = this.part(build, p.op, p.part);
          this.finishPart(build, p.op, part, atMs + round * MINUTE_MS, 'teacher', part.at[0] as string);
          made++;
        }
      if (made === 0) return;
    }
  }

  private releaseRested(atMs: number): void {
    for (const r of releases(this.state(), atMs))
      if (r.usualMs <= atMs)
        this.sayBuild(r.build, 'released', { op: r.op, part: r.part, what: r.what }, atMs);
  }

  private part(build: string, op: string, part: string): PlannedPart {
    const facts = this.builds.get(build)?.facts as BuildFacts;
    return planOf(this.state(), facts)
      .byId.get(op)
      ?.parts.find((p) => p.id === part) as PlannedPart;
  }

  evening(k: number): void {
    const s = this.session(k);
    this.sayCourse('session-opened', { session: s.session }, s.startMs);
    this.climate(s.startMs, 'opening');
    const here = this.attendance(k, s);
    this.dailyChecks(s.startMs + 2 * MINUTE_MS);
    this.giveKeys(here, s.startMs + 4 * MINUTE_MS);
    this.work(here, s.startMs + 10 * MINUTE_MS, s.endMs);
    this.sayCourse('session-closed', { session: s.session }, s.endMs);
  }

  private climate(atMs: number, by: 'opening' | 'gluing'): void {
    const humidityFrac = Math.round((0.45 + 0.02 * this.random.normal()) * 100) / 100;
    this.sayShop(
      'room-climate',
      { humidityFrac: Math.min(0.49, Math.max(0.41, humidityFrac)), tempC: 20 + this.random.below(3), by },
      atMs,
    );
  }

  private attendance(
    k: number,
    s: { readonly session: string; readonly startMs: number },
  ): readonly string[] {
    const here: string[] = [];
    names.forEach((_, i) => {
      const missed =
        i === behindIndex
          ? k % 5 === 1 || k % 5 === 3 || k === heldCount - 1
          : k > 0 && this.random.next() < 0.05;
      this.sayCourse(
        missed ? 'absent' : 'present',
        { session: s.session, person: `p${i + 1}` },
        s.startMs + MINUTE_MS,
      );
      if (!missed) here.push(`b${i + 1}`);
    });
    return here;
  }

  private dailyChecks(atMs: number): void {
    for (const station of ['thickness-sander', 'bandsaw', 'drill-press', 'belt-sander'])
      this.sayShop(
        'machine-checked',
        { station, state: 'met', checked: ['guard', 'stop', 'extraction'] },
        atMs,
      );
    for (const s of this.wish.route.stations)
      if (
        !['none', 'hand', 'teacher-only'].includes(s.key) &&
        !['thickness-sander', 'bandsaw', 'drill-press', 'belt-sander'].includes(s.id)
      )
        this.sayShop('machine-checked', { station: s.id, state: 'met' }, atMs);
  }

  /** Key checks ride on the demonstration that first needs them; who was inducted and is here gets the key. */
  private giveKeys(here: readonly string[], atMs: number): void {
    const state = this.state();
    for (const check of this.wish.route.operations) {
      if (check.kind !== 'key' || check.optional || check.givesKey === undefined) continue;
      const soon = here.some((b) => {
        const facts = this.builds.get(b)?.facts as BuildFacts;
        const s = progressOf(state, facts, atMs).get(check.joinTo ?? '');
        return s !== undefined && s.state !== 'not ready';
      });
      if (!soon) continue;
      for (const b of here) {
        const person = `p${b.slice(1)}`;
        const inducted = this.builds.get(b)?.facts.operations.get('A1') !== undefined;
        if (inducted && !this.shopState.facts.keys.has(`${person}/${check.givesKey}`))
          this.sayShop('key-given', { person, key: check.givesKey, course: this.course }, atMs);
      }
    }
  }

  /** Everybody who is free takes the first offer of the plain rule; a batch takes along all who could join. */
  private work(here: readonly string[], fromMs: number, endMs: number): void {
    const freeAt = new Map(here.map((b) => [b, fromMs]));
    let teacherFreeMs = fromMs;
    for (;;) {
      const [build, atMs] = [...freeAt].sort((a, b) => a[1] - b[1] || (a[0] < b[0] ? -1 : 1))[0] ?? [
        '',
        endMs,
      ];
      if (atMs >= endMs - 15 * MINUTE_MS) return;
      const look = lookAround(this.state(), atMs, endMs);
      const offers = plainSteps(
        look,
        build,
        `p${build.slice(1)}`,
        look.state.builds.get(build) as BuildFacts,
      ).offers;
      const offer = offers.find((o) => !this.needsTeacher(o) || teacherFreeMs <= atMs + 5 * MINUTE_MS);
      if (!offer) {
        freeAt.set(build, atMs + 10 * MINUTE_MS);
        continue;
      }
      if (offer.batch === 'none') {
        freeAt.set(build, this.doOffer(offer, atMs));
        continue;
      }
      const members = this.members(look, offer, freeAt, atMs);
      const endOfRunMs = this.runBatch(members, offer, atMs);
      for (const m of members) freeAt.set(m, endOfRunMs);
      if (this.needsTeacher(offer)) teacherFreeMs = endOfRunMs;
    }
  }

  private needsTeacher(o: Offer): boolean {
    return o.how === 'teacher does it' || this.part(o.build, o.op, o.part).batch.teacher === 'whole';
  }

  private members(
    look: Look,
    offer: Offer,
    freeAt: ReadonlyMap<string, number>,
    atMs: number,
  ): readonly string[] {
    const part = this.part(offer.build, offer.op, offer.part);
    const others = [...freeAt]
      .filter(([b, free]) => b !== offer.build && free <= atMs + 10 * MINUTE_MS)
      .map(([b]) => b)
      .filter((b) => {
        const next = plainSteps(look, b, `p${b.slice(1)}`, look.state.builds.get(b) as BuildFacts);
        return next.offers.some((o) => o.op === offer.op && o.part === offer.part);
      });
    return [offer.build, ...others].slice(0, Math.max(1, part.batch.most));
  }

  private runBatch(members: readonly string[], offer: Offer, atMs: number): number {
    const part = this.part(offer.build, offer.op, offer.part);
    let nowMs = atMs + part.batch.setUpMin * this.pace() * MINUTE_MS;
    for (const b of members) {
      nowMs += part.batch.eachMin * this.pace() * MINUTE_MS;
      this.finishPart(b, offer.op, part, nowMs, `p${b.slice(1)}`, offer.station);
    }
    return nowMs;
  }

  private doOffer(offer: Offer, atMs: number): number {
    const part = this.part(offer.build, offer.op, offer.part);
    if (this.random.next() < 0.5)
      this.sayBuild(
        offer.build,
        'step-started',
        { op: offer.op, part: offer.part, station: offer.station, atMs: Math.round(atMs) },
        atMs,
        offer.person,
      );
    const doneMs = atMs + offer.likelyMin * this.pace() * MINUTE_MS;
    this.finishPart(offer.build, offer.op, part, doneMs, offer.person, offer.station);
    return doneMs;
  }

  /** Real minutes against likely ones: 0.75 to 1.5, seldom more. */
  private pace(): number {
    return Math.exp(0.18 * this.random.normal()) * 1.02;
  }

  private finishPart(
    build: string,
    op: string,
    part: PlannedPart,
    atMs: number,
    by: string,
    station: string,
  ): void {
    const hold = this.wish.route.holdPoints.find((h) => h.op === op);
    if (hold?.when === 'before' && !this.builds.get(build)?.facts.signed.has(op))
      this.sayBuild(build, 'hold-signed', { op, sign: hold.sign }, atMs);
    // the tablet writes in the order of its clock; when a step was really done stands in the event
    const wholeMs = Math.round(atMs);
    this.sayBuild(build, 'step-done', { op, part: part.id, station, atMs: wholeMs }, atMs, by);
    if (part.then === 'glue' && part.holds.length > 0)
      this.sayBuild(
        build,
        'put-in-clamps',
        { op, part: part.id, holds: part.holds, atMs: wholeMs },
        atMs,
        by,
      );
    const facts = this.builds.get(build)?.facts as BuildFacts;
    const s = progressOf(this.state(), facts, atMs).get(op);
    if (s?.next !== undefined) return;
    this.readAll(build, op, atMs, by);
    if (hold?.when !== 'after') return;
    for (let n = 0; n < Math.max(hold.signatures, hold.people); n++)
      this.sayBuild(
        build,
        'hold-signed',
        { op, sign: hold.sign, number: n + 1 },
        atMs,
        n === 1 && hold.people > 1 ? 'helper' : 'teacher',
      );
  }

  private readAll(build: string, op: string, atMs: number, by: string): void {
    const o = this.wish.route.operations.find((x) => x.id === op) as Operation;
    for (const r of o.readings)
      if (
        r.need !== 'may' &&
        r.kind === 'number' &&
        (r.instruments ?? o.instruments).includes(this.wish.instrument)
      )
        for (const spot of r.spots?.names ?? [undefined]) this.read(build, o, r, spot, atMs, by);
  }

  private read(
    build: string,
    o: Operation,
    r: Reading,
    spot: string | undefined,
    atMs: number,
    by: string,
  ): void {
    const limits = limitsOf(r, this.wish.instrument, this.wish.figure);
    const value = r.room ? this.roomReading() : this.madeUp(build, r, limits);
    if (value === undefined) return;
    const tool = this.wish.route.measuringTools.find((t) => t.id === r.toolId);
    const verdict = judgeNumber(r.name, r.unit, value, limits, tool);
    this.sayBuild(
      build,
      'reading',
      {
        op: o.id,
        reading: r.id,
        value,
        unit: r.unit,
        ...(spot === undefined ? {} : { spot }),
        ...(r.toolId === undefined ? {} : { tool: r.toolId }),
        ...(o.jigs[0] === undefined ? {} : { jig: jigOfReading.get(r.id) ?? o.jigs[0] }),
        ...(verdict ? { verdict: { ...verdict, revision: this.wish.pattern.revision } } : {}),
      },
      atMs,
      by,
    );
  }

  private roomReading(): number {
    return Math.round((this.shopState.facts.climate.at(-1)?.humidityFrac ?? 0.45) * 100);
  }

  private madeUp(build: string, r: Reading, limits: ReturnType<typeof limitsOf>): number | undefined {
    const value =
      r.id === 'T10.1' && build === `b${thinIndex + 1}`
        ? thinPlateMm + 0.01 * this.random.normal()
        : madeUpNumber(this.random, limits, r.id === 'T7.2' ? this.ringDepthDrift() : 0);
    return value === undefined ? undefined : asRead(value, r.unit);
  }

  /** The ring base has worn: each channel comes out a little deeper than the one before. */
  private ringDepthDrift(): number {
    const done = [...this.builds.values()].filter((b) => b.facts.readings.has('T7.2')).length;
    return 0.008 * done;
  }

  /** The last open bench hour before now: a few people glue, so that something rests. */
  openBench(): void {
    const nextMs = this.session(heldCount).startMs;
    const slots = [-50.5, -25.5, -23.5, -10.5, -6.5, -2.5].map((h) => nextMs + h * HOUR_MS);
    const fromMs = slots.findLast((t) => t + 1.5 * HOUR_MS <= this.wish.nowMs) ?? (slots[0] as number);
    const endMs = fromMs + 75 * MINUTE_MS;
    this.releaseRested(fromMs);
    this.climate(fromMs, 'opening');
    this.dailyChecks(fromMs);
    const look = lookAround(this.state(), fromMs, endMs);
    const offers = [...look.state.builds].flatMap(([build, facts]) =>
      plainSteps(look, build, `p${build.slice(1)}`, facts).offers.filter(
        (o) => this.holdH(o) > 0 && !this.needsTeacher(o),
      ),
    );
    offers.sort((a, b) => this.holdH(b) - this.holdH(a) || b.chainMin - a.chainMin);
    const chosen = offers.filter((o, i) => offers.findIndex((x) => x.build === o.build) === i).slice(0, 4);
    chosen.forEach((o, i) => {
      this.doOffer(o, fromMs + (5 + 5 * i) * MINUTE_MS);
    });
  }

  /** What a teacher noted besides: a near miss that was looked into, a belt that ran to one side. */
  asideNotes(): void {
    const nearMissMs = this.session(6).startMs + 70 * MINUTE_MS;
    const atMs = this.events.at(-1)?.time ?? this.wish.nowMs;
    this.sayShop(
      'incident',
      {
        severity: 'near miss',
        text: 'A push stick slid off the table into the running blade; nobody was near it.',
        station: 'bandsaw',
        followUp: 'Push sticks hang on a hook beside the saw now.',
        atMs: nearMissMs,
      },
      atMs,
    );
    const incident = this.events.at(-1)?.id ?? '';
    this.sayShop('incident-closed', { incident, text: 'hook put up, shown to everybody' }, atMs);
    this.sayShop(
      'machine-checked',
      { station: 'belt-sander', state: 'doubtful', note: 'the belt ran to one side; tracked and run again' },
      atMs,
    );
  }

  /** The teacher publishes a plan of what is left. */
  publish(steps: string): void {
    this.sayCourse('plan-published', { format: planFormat, steps }, this.wish.nowMs - MINUTE_MS);
  }

  /** Usual hours the longest thing of a step is held. */
  private holdH(o: Offer): number {
    return Math.max(0, ...this.part(o.build, o.op, o.part).holds.map((h) => h.usualH));
  }
}
