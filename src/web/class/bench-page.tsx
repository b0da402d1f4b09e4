import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { BuildFacts } from '../../course/build-facts.ts';
import { buildsOf, type ClassState, labelOf, planOf } from '../../course/class-state.ts';
import { CLOSING_OP, closingList, closingListFault } from '../../course/closing-list.ts';
import { nextSteps } from '../../course/planned-steps.ts';
import { progressOf } from '../../course/progress.ts';
import { shopOfCourse } from '../../course/shop-of-record.ts';
import { openReadings, sessionFromMs, sessionNow } from '../../course/tonight.ts';
import { lookAround, type Offer } from '../../course/what-next.ts';
import { HOUR_MS } from '../../quantity/time.ts';
import type { PlannedOperation } from '../../route/planned-route.ts';
import { Ring } from '../parts/ring.tsx';
import { OwnPicture } from '../route/own-picture.tsx';
import { askHelp, doneStep, startStep } from './acts.ts';
import './bench.css';
import { capital } from '../../quantity/words.ts';
import { BenchReadings, OutsideReadings } from './bench-readings.tsx';
import { BenchSettings } from './bench-settings.tsx';
import { useBrightPaper } from './bright-paper.ts';
import { useBuildComputed } from './build-context.ts';
import { segmentsOf } from './build-ring.tsx';
import { buildName, numberOfBuild, operationName, personOfBuild, placeName } from './class-names.ts';
import { sinceWords, when } from './clock-words.ts';
import { ClosingChecks } from './closing-checks.tsx';
import { DemoMark } from './demo-mark.tsx';
import { GlueTimers } from './glue-timers.tsx';
import { NoCourse } from './no-course.tsx';
import { SignButton } from './sign-button.tsx';
import { useCourse } from './use-course.ts';

/** A learner's page: one step at a time. */
export function BenchPage({ build }: { readonly build: string }) {
  const course = useCourse();
  useBrightPaper();
  if (course.record.state === 'loading') return <main id="main" className="bench" data-state="loading" />;
  const { state } = course;
  const facts = state?.builds.get(build);
  if (!state || !facts?.setUp)
    return state ? (
      <main id="main" className="bench" data-state="empty">
        <p className="says bad">
          There is no build under that address in this course; go back to the board and touch a ring.
        </p>
        <Link className="btn" href="/session">
          To the board
        </Link>
      </main>
    ) : (
      <NoCourse course={course} />
    );
  return (
    <Bench
      state={state}
      build={build}
      facts={facts}
      nowMs={course.nowMs}
      isDemo={course.isDemo}
      canWrite={course.record.me.role === 'teacher' || course.record.me.build === build}
      isTeacher={course.record.me.role === 'teacher'}
    />
  );
}

interface BenchProps {
  readonly state: ClassState;
  readonly build: string;
  readonly facts: BuildFacts;
  readonly nowMs: number;
  readonly isDemo: boolean;
  readonly canWrite: boolean;
  readonly isTeacher: boolean;
}

function Bench(props: BenchProps) {
  const { state, build, facts, nowMs, isDemo, canWrite, isTeacher } = props;
  const session = sessionNow(state, nowMs);
  const isOn = session?.openedMs !== undefined;
  const next = nextSteps(
    lookAround(state, isOn ? nowMs : Math.max(nowMs, session?.startMs ?? nowMs), session?.endMs),
    build,
    personOfBuild(state, build),
    facts,
  );
  const [picked, pick] = useState<string>();
  const offer = next.offers.find((o) => `${o.op} ${o.part}` === picked) ?? next.offers[0];
  const number = numberOfBuild(state, build);
  const name = labelOf(state, personOfBuild(state, build));
  return (
    <main id="main" className="bench" data-theme-hint="bright" data-state="ready">
      <header className="bench-head">
        <Ring
          size="small"
          segments={segmentsOf(state, build, nowMs)}
          name={name}
          {...(number === undefined ? {} : { number })}
        />
        <div>
          <h1>{offer ? operationName(state, offer.op) : 'Nothing next'}</h1>
          <p className="q">
            {buildName(state, build)}
            {offer && `, ${placeName(state, offer.station)}`}
            {facts.setUp?.handed === 'left' && <strong className="demo"> LEFT-HANDED</strong>}{' '}
            <DemoMark isDemo={isDemo} />
          </p>
        </div>
        {isTeacher && <OtherBuild state={state} build={build} />}
      </header>
      <Outside {...props} op={offer?.op} sinceMs={sessionFromMs(session, nowMs)} />
      {offer ? <Step {...props} offer={offer} /> : <NothingNext {...props} />}
      <OtherSteps state={state} offers={next.offers.filter((o) => o !== offer)} pick={pick} />
      {next.by === 'plain rule' && <p className="q">By the plain rule: the longest way to go comes first.</p>}
      <Resting state={state} facts={facts} nowMs={nowMs} />
      <footer className="bench-bar">
        <button
          type="button"
          className="btn"
          disabled={!canWrite || facts.help !== undefined}
          onClick={() => void askHelp(build, offer?.op)}
        >
          {facts.help ? `Asked ${sinceWords(facts.help.atMs, nowMs)} ago` : 'Ask for the teacher'}
        </button>
        {offer && canWrite && <StepButton state={state} facts={facts} build={build} offer={offer} />}
      </footer>
    </main>
  );
}

/** The tablet goes from hand to hand: another person in one pick. */
function OtherBuild({ state, build }: { readonly state: ClassState; readonly build: string }) {
  const [, goTo] = useLocation();
  return (
    <select
      className="pick other-build"
      aria-label="Another person"
      value={build}
      onChange={(e) => goTo(`/bench/${e.target.value}`)}
    >
      {buildsOf(state).map((b) => (
        <option key={b.id} value={b.id}>
          {buildName(state, b.id)}
        </option>
      ))}
    </select>
  );
}

/** What was read outside its limits in steps that lie behind; the readings of the present step stand with it. */
function Outside(props: BenchProps & { readonly op: string | undefined; readonly sinceMs: number }) {
  const { build, facts, op, sinceMs } = props;
  const outside = openReadings(build, facts, sinceMs).filter(
    (o, i, all) => o.op !== op && all.findIndex((x) => x.reading === o.reading) === i,
  );
  return outside.length === 0 ? null : <OutsideOnes {...props} outside={outside} />;
}

function OutsideOnes(props: BenchProps & { readonly outside: ReturnType<typeof openReadings> }) {
  const computed = useBuildComputed(props.state, props.facts);
  return <OutsideReadings {...props} computed={computed} />;
}

/** Why a step cannot be marked done yet; undefined when it can. */
function whyNotDone(state: ClassState, facts: BuildFacts, { op, part }: Offer): string | undefined {
  if (closingListFault(state.route, facts, [op])) return 'Closing list first';
  const isLast = planOf(state, facts).byId.get(op)?.parts.at(-1)?.id === part;
  const isOpen = op === CLOSING_OP && isLast && closingList(state.route, facts).some((i) => !i.isChecked);
  return isOpen ? 'Tick the list first' : undefined;
}

function StepButton({
  state,
  facts,
  build,
  offer,
}: {
  readonly state: ClassState;
  readonly facts: BuildFacts;
  readonly build: string;
  readonly offer: Offer;
}) {
  if (offer.signFirst)
    return (
      <button type="button" className="btn wait" disabled>
        Signature first
      </button>
    );
  const why = whyNotDone(state, facts, offer);
  if (why)
    return (
      <button type="button" className="btn wait" disabled>
        {why}
      </button>
    );
  return offer.running ? (
    <button
      type="button"
      className="btn go"
      onClick={() => void doneStep(state, [build], offer.op, offer.part)}
    >
      Done
    </button>
  ) : (
    <>
      <button
        type="button"
        className="btn"
        onClick={() => void startStep(build, offer.op, offer.part, offer.station)}
      >
        Start
      </button>
      <button
        type="button"
        className="btn go"
        onClick={() => void doneStep(state, [build], offer.op, offer.part)}
      >
        Done
      </button>
    </>
  );
}

function Step({
  state,
  build,
  facts,
  nowMs,
  offer,
  canWrite,
  isTeacher,
}: BenchProps & { readonly offer: Offer }) {
  const computed = useBuildComputed(state, facts);
  const plan = planOf(state, facts);
  const planned = plan.byId.get(offer.op) as PlannedOperation;
  const { op } = planned;
  const station = state.route.stations.find((s) => s.id === offer.station);
  const part = planned.parts.find((p) => p.id === offer.part);
  const cards = computed.cards.filter((c) => c.operations.includes(op.id));
  return (
    <>
      <p className="what">
        {capital(part?.what ?? op.name)}.{' '}
        {offer.how === 'adult beside' && <strong>With an adult beside you. </strong>}
        {offer.how === 'teacher does it' && (
          <strong>The teacher does this one: have the piece ready. </strong>
        )}
        {offer.how === 'by hand' && <strong>By hand at the bench. </strong>}
        About {offer.likelyMin} minutes.
      </p>
      {offer.reason && <p className="q reason">Why now: {offer.reason}</p>}
      {offer.signFirst && (
        <p className="says bad">
          Before you begin, the teacher signs: {offer.signFirst.sign}.{' '}
          {isTeacher && (
            <SignButton
              state={state}
              due={{ build, person: offer.person, hold: offer.signFirst, due: 'now' }}
            />
          )}
        </p>
      )}
      <BenchSettings cards={cards} unit={shopOfCourse(state).unit} />
      {op.id === CLOSING_OP && (
        <ClosingChecks state={state} build={build} facts={facts} canWrite={canWrite} />
      )}
      {part?.then === 'glue' && (
        <GlueTimers build={build} op={op.id} facts={facts} nowMs={nowMs} canWrite={canWrite} />
      )}
      <section className="care">
        <h2 className="vh">Protection and cautions</h2>
        {station && station.protect.length > 0 && (
          <p>
            <strong>Wear: {station.protect.map((p) => PROTECT[p] ?? p).join(', ')}.</strong>
          </p>
        )}
        <ul>
          {[...(station?.cautions ?? []), ...op.cautions].map((c) => (
            <li key={c}>{c}.</li>
          ))}
        </ul>
        <p className="q">The shop’s own rules, the maker’s manual and local codes come first.</p>
      </section>
      <BenchReadings
        state={state}
        build={build}
        facts={facts}
        planned={planned}
        computed={computed}
        canWrite={canWrite}
        isTeacher={isTeacher}
      />
      <details className="good">
        <summary>What good looks like</summary>
        <p>{op.ownText ?? op.good}</p>
        {op.photo && <OwnPicture key={op.photo} hash={op.photo} name={op.name} />}
        {op.link && (
          <p>
            <a className="link" href={op.link} rel="noreferrer noopener" target="_blank">
              {op.link}
            </a>
          </p>
        )}
        {planned.remark && <p>{capital(planned.remark)}.</p>}
        <ul>
          {op.faults.map((f) => (
            <li key={f.fault}>
              <strong>{capital(f.fault)}</strong>: {f.cause}. {capital(f.rescue)}.
            </li>
          ))}
        </ul>
      </details>
      {op.jigs.length > 0 && <p className="q">With: {op.jigs.map((j) => placeName(state, j)).join(', ')}.</p>}
    </>
  );
}

const PROTECT: Readonly<Record<string, string>> = {
  eyes: 'eye protection',
  ears: 'ear protection',
  dust: 'a dust mask, extraction on',
  hands: 'hand protection',
  lungs: 'a mask for fumes',
};

function NothingNext({ state, build, facts, nowMs }: BenchProps) {
  const left = [...progressOf(state, facts, nowMs).values()].filter(
    (s) => s.state === 'resting' && s.untilMs !== undefined,
  );
  const soonest = left.sort((a, b) => (a.untilMs as number) - (b.untilMs as number))[0];
  return (
    <p className="what">
      {soonest
        ? `${operationName(state, soonest.op)} rests to ${when(soonest.untilMs as number, nowMs)}. `
        : ''}
      Nothing can be done on {buildName(state, build)} just now: sharpen, tidy the bench, or ask who can use a
      second pair of hands.
    </p>
  );
}

function OtherSteps({
  state,
  offers,
  pick,
}: {
  readonly state: ClassState;
  readonly offers: readonly Offer[];
  readonly pick: (key: string) => void;
}) {
  if (offers.length === 0) return null;
  return (
    <section className="others">
      <h2 className="hd">Or do this</h2>
      <ul>
        {offers.slice(0, 4).map((o) => (
          <li key={`${o.op} ${o.part}`}>
            <button type="button" className="btn" onClick={() => pick(`${o.op} ${o.part}`)}>
              {operationName(state, o.op)}
              <span className="q"> {o.likelyMin} min</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Resting({
  state,
  facts,
  nowMs,
}: {
  readonly state: ClassState;
  readonly facts: BuildFacts;
  readonly nowMs: number;
}) {
  const clamps = [...facts.clamps.values()].flatMap((c) =>
    c.holds.filter((h) => h.releasedMs === undefined).map((h) => ({ ...h, op: c.op, sinceMs: c.sinceMs })),
  );
  if (clamps.length === 0) return null;
  return (
    <section className="resting">
      <h2 className="hd">Resting</h2>
      <ul>
        {clamps.map((c) => {
          const freeMs = c.sinceMs + c.leastH * HOUR_MS;
          return (
            <li key={`${c.op}${c.what}`}>
              {operationName(state, c.op)}, {placeName(state, c.what)}:{' '}
              {nowMs >= freeMs ? 'rested enough' : `to ${when(freeMs, nowMs)}`}
            </li>
          );
        })}
      </ul>
    </section>
  );
}
