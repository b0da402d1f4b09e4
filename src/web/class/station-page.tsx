import { useState } from 'react';
import { Link } from 'wouter';
import type { BuildFacts } from '../../course/build-facts.ts';
import type { ClassState } from '../../course/class-state.ts';
import { shopOfCourse } from '../../course/shop-of-record.ts';
import { stationBatch } from '../../course/station-batch.ts';
import { opening, sessionFromMs } from '../../course/tonight.ts';
import { isFinding } from '../../quantity/finding.ts';
import { capital } from '../../quantity/words.ts';
import { doneStep } from './acts.ts';
import { BenchSettings } from './bench-settings.tsx';
import { useBrightPaper } from './bright-paper.ts';
import { patternOfBuild, useBuildComputed } from './build-context.ts';
import { buildName, operationName, placeName } from './class-names.ts';
import { DemoMark } from './demo-mark.tsx';
import { NoCourse } from './no-course.tsx';
import './station.css';
import { ProveOffset } from './prove-offset.tsx';
import { type HandedIn, LastHandedIn, StationPasses } from './station-passes.tsx';
import { useCourse } from './use-course.ts';

/** A tablet at the machine: the number now, what is fed, one touch for the next. */
export function StationPage({ station }: { readonly station: string }) {
  const course = useCourse();
  useBrightPaper();
  if (course.record.state === 'loading') return <main id="main" className="station" data-state="loading" />;
  if (!course.state) return <NoCourse course={course} />;
  return <AtStation state={course.state} station={station} nowMs={course.nowMs} isDemo={course.isDemo} />;
}

function AtStation({
  state,
  station,
  nowMs,
  isDemo,
}: {
  readonly state: ClassState;
  readonly station: string;
  readonly nowMs: number;
  readonly isDemo: boolean;
}) {
  const known = state.route.stations.find((s) => s.id === station);
  const view = opening(state, nowMs);
  const sinceMs = sessionFromMs(view.session, nowMs);
  const lists = [...view.batches, ...view.catchUp].filter((b) => b.station === station);
  const [picked, pick] = useState(0);
  const [last, setLast] = useState<HandedIn>();
  const list = lists[Math.min(picked, lists.length - 1)];
  const batch = list
    ? stationBatch(state, station, list.op, list.builds, sinceMs, (f) => patternOfBuild(state, f))
    : undefined;
  if (!known)
    return (
      <main id="main" className="station" data-state="empty">
        <p className="says bad">There is no station under that address; go back to the board.</p>
        <Link className="btn" href="/session">
          To the board
        </Link>
      </main>
    );
  return (
    <main id="main" className="station" data-state="ready">
      <header>
        <h1>
          {capital(known.name)} <DemoMark isDemo={isDemo} />
        </h1>
        {known.protect.length > 0 && (
          <p className="q">
            Wear: {known.protect.join(', ')}. The shop’s own rules and the maker’s manual come first.
          </p>
        )}
        {lists.length > 1 && (
          <div className="picks">
            {lists.map((l, i) => (
              <button
                key={`${l.op}${l.part}${l.isCatchUp}`}
                type="button"
                className="pick-name"
                aria-pressed={l === list}
                onClick={() => pick(i)}
              >
                {operationName(state, l.op)}
                {l.isCatchUp ? ', catch-up' : ''}
              </button>
            ))}
          </div>
        )}
      </header>
      {last && <LastHandedIn state={state} {...last} />}
      {!list && <p className="what">Nobody’s next step is at the {placeName(state, station)} just now.</p>}
      {batch && isFinding(batch) && <p className="says bad">{batch.text}</p>}
      {list && batch && !isFinding(batch) && (
        <StationPasses
          state={state}
          station={station}
          part={list.part}
          batch={batch}
          isDemo={isDemo}
          onHandedIn={setLast}
        />
      )}
      {list && !batch && <PlainStation state={state} op={list.op} part={list.part} builds={list.builds} />}
      <ul className="cautions">
        {known.cautions.map((c) => (
          <li key={c}>{c}.</li>
        ))}
      </ul>
      {station === 'thickness-sander' && <ProveOffset state={state} station={station} isDemo={isDemo} />}
    </main>
  );
}

/** A station without passes: its settings and one gesture that marks the step done for those in the batch. */
function PlainStation({
  state,
  op,
  part,
  builds,
}: {
  readonly state: ClassState;
  readonly op: string;
  readonly part: string;
  readonly builds: readonly string[];
}) {
  const facts = state.builds.get(builds[0] ?? '');
  if (!facts) return null;
  return (
    <section className="passes">
      <h2 className="nm">{operationName(state, op)}</h2>
      <Cards state={state} facts={facts} op={op} />
      <ol className="plates">
        {builds.map((b) => (
          <li key={b}>
            <strong>{buildName(state, b)}</strong>
            <button type="button" className="btn" onClick={() => void doneStep(state, [b], op, part)}>
              Done
            </button>
          </li>
        ))}
      </ol>
      <button
        type="button"
        className="btn go next-pass"
        onClick={() => void doneStep(state, builds, op, part)}
      >
        Done for all {builds.length}
      </button>
    </section>
  );
}

function Cards({
  state,
  facts,
  op,
}: {
  readonly state: ClassState;
  readonly facts: BuildFacts;
  readonly op: string;
}) {
  const { cards } = useBuildComputed(state, facts);
  return (
    <BenchSettings cards={cards.filter((c) => c.operations.includes(op))} unit={shopOfCourse(state).unit} />
  );
}
